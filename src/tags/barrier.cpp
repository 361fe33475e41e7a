// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <optional>

#include "access_value.h"
#include "loamway/base/names.h"
#include "loamway/tags/limits.h"
#include "loamway/tags/structure.h"
#include "tag_lookup.h"
#include "tag_text.h"

namespace loamway {

namespace {

using State = BarrierReading::State;

enum class BarrierKind { none, opened, passed_slowly, solid, grid, height, unknown };

BarrierKind barrier_kind(std::string_view value) {
    const std::string word = ascii_lower(trim_tag(value));
    if (tag_is_in(word, {"no", "entrance", "kerb"}))
        return BarrierKind::none;
    if (tag_is_in(word, {"gate", "lift_gate", "swing_gate", "sliding_gate", "hampshire_gate", "toll_booth",
                         "border_control"}))
        return BarrierKind::opened;
    if (tag_is_in(word, {"bollard", "block", "cycle_barrier", "motorcycle_barrier", "stile", "horse_stile",
                         "kissing_gate", "turnstile", "full-height_turnstile", "log", "debris",
                         "jersey_barrier", "planter", "sump_buster", "bus_trap"}))
        return BarrierKind::solid;
    if (word == "cattle_grid")
        return BarrierKind::grid;
    if (word == "height_restrictor")
        return BarrierKind::height;
    return BarrierKind::unknown;
}

// Access tags at the barrier itself; nothing when there are none. read_barrier has no hour, so conditional
// values make it a check.
std::optional<Passage> access_at(const TagView& tags, const VehicleView& vehicle) {
    const std::array<std::string_view, 4> keys{own_class_key(vehicle), "motor_vehicle", "vehicle", "access"};
    bool undecided = false;
    for (const std::string_view key : keys) {
        if (key.empty())
            continue;
        const TagLookup lookup = look_up(tags, key, vehicle, Moment());
        undecided = undecided || !lookup.flags.empty();
        if (!lookup.found)
            continue;
        const Passage passage = read_access_value(lookup.value, vehicle).passage;
        return undecided ? worse(passage, Passage::check) : passage;
    }
    return undecided ? std::optional(Passage::check) : std::nullopt;
}

bool is_removable_bollard(const TagView& tags) {
    const std::string kind = ascii_lower(tags.get("bollard").value_or(""));
    return tag_is_in(kind, {"removable", "rising", "retractable", "foldable", "flexible"});
}

State state_without_limits(const TagView& tags, BarrierKind kind, const VehicleView& vehicle) {
    const std::optional<Passage> access = access_at(tags, vehicle);
    if (kind == BarrierKind::solid) {
        const bool lets_through = access == Passage::allow || is_removable_bollard(tags);
        return lets_through ? State::block_check : State::block;
    }
    if (access == Passage::deny)
        return State::block;
    if (access == Passage::check || tags.is("locked", "yes"))
        return State::check;
    switch (kind) {
        case BarrierKind::opened:
            return access == Passage::allow ? State::pass : State::pass_check;
        case BarrierKind::grid:
            return State::check_weight;
        case BarrierKind::height:
            return State::check_height;
        case BarrierKind::unknown:
            return State::check;
        default:
            return State::pass;
    }
}

int severity(State state) {
    switch (state) {
        case State::pass:
            return 0;
        case State::pass_check:
            return 1;
        case State::block_check:
            return 3;
        case State::block:
            return 4;
        default:
            return 2;
    }
}

void raise(BarrierReading& reading, State state) {
    if (severity(state) > severity(reading.state))
        reading.state = state;
}

// Limits at the barrier: too big blocks, unreadable is a check, and a limit that the vehicle keeps answers
// the question which a height restrictor or a cattle grid asks.
void apply_limits(BarrierReading& reading, const TagView& tags, BarrierKind kind,
                  const VehicleView& vehicle) {
    struct Question {
        std::string_view key, physical, flag;
        State check;
        BarrierKind answers;
    };
    constexpr Question questions[] = {
        {"maxwidth", "maxwidth:physical", "width", State::check, BarrierKind::none},
        {"maxheight", "maxheight:physical", "height", State::check_height, BarrierKind::height},
        {"maxweight", "maxweight", "weight", State::check_weight, BarrierKind::grid}};
    // One reading for both directions: what stops the vehicle in one is looked at in the other.
    std::vector<LimitFinding> findings = read_limits(tags, vehicle, Direction::forward, Moment());
    for (LimitFinding& other : read_limits(tags, vehicle, Direction::backward, Moment()))
        findings.push_back(std::move(other));
    for (const Question& question : questions) {
        std::optional<Passage> worst;
        for (const LimitFinding& found : findings)
            if (found.key == question.key || found.key == question.physical)
                worst = worse(worst.value_or(Passage::allow), found.passage);
        const bool posted = tags.has(question.key) || tags.has(question.physical);
        if (worst) {
            raise(reading, *worst == Passage::deny ? State::block : question.check);
            reading.flags.emplace_back(question.flag);
        } else if (posted && kind == question.answers && reading.state == question.check) {
            reading.state = State::pass;
        }
    }
}

// The opening of a gate is often tagged as its width: not posted, but worth a look.
void look_at_opening(BarrierReading& reading, const TagView& tags, BarrierKind kind,
                     const VehicleView& vehicle) {
    const std::optional<std::string_view> raw = tags.get("width");
    if (kind != BarrierKind::opened || !raw || vehicle.width <= Length())
        return;
    const LimitReading width = read_length(*raw);
    if (width.value && (vehicle.width + vehicle.width_margin).metres() <= *width.value + 1e-6)
        return;
    raise(reading, State::check);
    if (std::find(reading.flags.begin(), reading.flags.end(), "width") == reading.flags.end())
        reading.flags.emplace_back("width");
}

}  // namespace

std::string_view name_of(BarrierReading::State s) {
    switch (s) {
        case State::pass:
            return "pass";
        case State::pass_check:
            return "pass_check";
        case State::check:
            return "check";
        case State::check_height:
            return "check_height";
        case State::check_weight:
            return "check_weight";
        case State::block_check:
            return "block_check";
        case State::block:
            break;
    }
    return "block";
}

Passage BarrierReading::passage() const {
    switch (state) {
        case State::pass:
            return Passage::allow;
        case State::block:
        case State::block_check:
            return Passage::deny;
        default:
            return Passage::check;
    }
}

BarrierReading read_barrier(const TagView& tags, const VehicleView& vehicle) {
    BarrierReading reading;
    const std::optional<std::string_view> barrier = tags.get("barrier");
    if (!barrier)
        return reading;
    const BarrierKind kind = barrier_kind(*barrier);
    reading.state = state_without_limits(tags, kind, vehicle);
    apply_limits(reading, tags, kind, vehicle);
    look_at_opening(reading, tags, kind, vehicle);
    return reading;
}

}  // namespace loamway
