// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_READ_ALL_TAGS_H
#define LOAMWAY_TESTS_SUPPORT_READ_ALL_TAGS_H

// Runs every tag rule over arbitrary bytes and throws std::logic_error when a reading breaks one of the
// promises that hold for any input. Shared by the fuzz target, its replay and the random test.

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/tags/explain.h"
#include "support/tag_samples.h"

namespace loamway::test {

inline void promise(bool kept, const char* what) {
    if (!kept)
        throw std::logic_error(what);
}

inline void check_text(std::string_view text) {
    for (const char c : text)
        promise(static_cast<unsigned char>(c) >= 0x20 && c != 0x7f, "a text holds a control character");
}

inline void check_surface(const SurfaceReading& s) {
    promise(s.odds.hard + s.odds.gravel + s.odds.earth == static_cast<int>(probability_steps),
            "the odds do not add up");
    promise(s.likeliest == s.odds.likeliest(), "the likeliest class is not that of the odds");
    promise(s.p_hard >= 0.0 && s.p_hard <= 1.0, "p_hard is no probability");
    const int most = std::max({s.odds.hard, s.odds.gravel, s.odds.earth});
    promise(!s.known || most == static_cast<int>(probability_steps), "a known class has not all the odds");
    check_text(s.reason);
}

inline void check_limit(const LimitReading& r) {
    promise((r.kind == LimitReading::Kind::limit) == r.value.has_value(), "value and kind disagree");
    promise(!r.value || (std::isfinite(*r.value) && *r.value >= 0.0), "a limit is no finite number");
    promise(!r.hint || std::isfinite(*r.hint), "a hint is no finite number");
}

inline void check_direction(const TagExplanation& e, const DirectionExplanation& d) {
    promise(d.access.passage == Passage::deny || e.drivable, "a road that may be driven is not in the graph");
    promise(!d.access.ends_only || d.access.passage == Passage::check, "ends_only without check");
    promise(d.access.flags.empty() || d.access.passage != Passage::allow ||
                d.access.flags.front().starts_with("look:"),
            "an undecided condition is taken as no limit");
    check_text(d.access.reason);
    for (const LimitFinding& f : d.limits) {
        promise(f.passage != Passage::allow, "a finding allows");
        check_text(f.text);
    }
    promise(!d.speed || (*d.speed > Speed() && std::isfinite(d.speed->kmh())), "a speed is no speed");
}

inline bool same(const DirectionExplanation& a, const DirectionExplanation& b) {
    return a.access.passage == b.access.passage && a.access.reason == b.access.reason &&
           a.access.ends_only == b.access.ends_only && a.access.flags == b.access.flags &&
           a.speed == b.speed && a.limits.size() == b.limits.size() && a.passage == b.passage;
}

/// A region keeps only the keys that matter; the readings must not change by that.
inline void check_kept_keys(const TagView& tags, const TagExplanation& e, const VehicleView& machine,
                            const VehicleView& truck, const Moment& moment) {
    TagView kept;
    for (const Tag& tag : tags.all())
        if (matters_on_way(tag.key))
            kept.add(tag.key, tag.value);
    const TagExplanation again = explain_tags(kept, machine, truck, moment);
    promise(again.drivable == e.drivable, "a dropped key decides what is in the graph");
    promise(again.surface.odds == e.surface.odds && again.surface.reason == e.surface.reason &&
                again.surface_built_up.odds == e.surface_built_up.odds,
            "a dropped key decides the surface");
    promise(same(again.machine.forward, e.machine.forward) &&
                same(again.machine.backward, e.machine.backward) &&
                same(again.truck.forward, e.truck.forward) && same(again.truck.backward, e.truck.backward),
            "a dropped key decides who may drive");
}

inline void read_all_tags(std::string_view bytes) {
    const TagView tags = tags_from_lines(bytes);
    const VehicleView truck = sample_truck();
    Moment night = sample_moment();
    night.time->hour = 0;
    night.time->day = 1;
    night.time->weekday = 0;
    night.daylight = false;
    night.wet = true;
    VehicleView unmeasured;
    unmeasured.agricultural = false;
    for (const VehicleView& machine : {sample_machine(), unmeasured}) {
        for (const Moment& moment : {sample_moment(), night, Moment()}) {
            const TagExplanation e = explain_tags(tags, machine, truck, moment);
            check_surface(e.surface);
            check_surface(e.surface_built_up);
            for (const VehicleExplanation* v : {&e.machine, &e.truck}) {
                check_direction(e, v->forward);
                check_direction(e, v->backward);
            }
        }
        const TagExplanation day = explain_tags(tags, machine, truck, sample_moment());
        check_kept_keys(tags, day, machine, truck, sample_moment());
    }
    for (const Tag& tag : tags.all()) {
        check_limit(read_mass(tag.value));
        check_limit(read_length(tag.value));
        check_limit(read_speed(tag.value));
        const ConditionalReading c = read_conditional(tag.key, tag.value, sample_machine(), sample_moment());
        for (const std::string& flag : c.flags)
            check_text(flag);
        (void)is_excepted(tag.value, truck);
    }
    (void)is_node_that_matters(tags);
}

}  // namespace loamway::test

#endif
