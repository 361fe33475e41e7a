// SPDX-License-Identifier: Apache-2.0
#include "verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace loamway {

namespace {

class Words {
public:
    explicit Words(const std::string& units) : m_imperial(units == "imperial") {}

    [[nodiscard]] std::string number(double metres) const {
        const double v = metres / (m_imperial ? 1609.344 : 1000.0);
        return v < 10 ? fmt::format("{:.1f}", v) : fmt::format("{:.0f}", v);
    }
    [[nodiscard]] std::string length(double metres) const {
        return number(metres) + (m_imperial ? " mi" : " km");
    }

private:
    bool m_imperial;
};

std::size_t relube_stops(const Option& o) {
    return static_cast<std::size_t>(
        std::count_if(o.stops.begin(), o.stops.end(), [](const PlanStop& s) { return s.kind == "relube"; }));
}

std::string stops_text(const Option& o) {
    const std::size_t n = relube_stops(o);
    return n == 0 ? "no re-lube stop" : n == 1 ? "1 re-lube stop" : fmt::format("{} re-lube stops", n);
}

std::string drive_text(const Option& o, const Words& words) {
    return fmt::format("{}, {} of them paved, {}, {}", words.length(*o.length_m), words.number(*o.hard_m),
                       stops_text(o), format_duration(Duration::from_seconds(*o.duration_s)));
}

std::string money(const Option& o) {
    return fmt::format("{:.0f} {}", *o.cost.total, o.cost.currency);
}

const Option* cheapest(const std::vector<Option>& options, Mode mode) {
    const Option* best = nullptr;
    for (const Option& o : options)
        if (o.feasible && o.mode == mode && (best == nullptr || *o.cost.total < *best->cost.total))
            best = &o;
    return best;
}

std::string why_not_text(const Option& o) {
    std::string text;
    for (const std::string& w : o.why_not)
        text += (text.empty() ? "" : "; ") + w;
    return text;
}

const Option* first_of(const std::vector<Option>& options, Mode mode) {
    for (const Option& o : options)
        if (o.mode == mode)
            return &o;
    return nullptr;
}

// Of everything driven, done or not, the one with the least paved metres.
const Option* softest(const std::vector<Option>& options) {
    const Option* best = nullptr;
    for (const Option& o : options)
        if (o.mode == Mode::drive && o.hard_m && (best == nullptr || *o.hard_m < *best->hard_m))
            best = &o;
    return best;
}

std::string beside(const Option& o, const Option& chosen) {
    if (!o.feasible)
        return fmt::format("cannot be done: {}", why_not_text(o));
    return fmt::format("costs {:.0f} {} more", *o.cost.total - *chosen.cost.total, chosen.cost.currency);
}

void explain_drive(const Option& o, const std::vector<Option>& options, const Words& words,
                   std::vector<std::string>& reasons) {
    reasons.push_back(
        fmt::format("{} of {} are paved as far as the map tells: {} for certain, up to {} if every "
                    "road of unknown surface is",
                    words.number(*o.hard_m), words.length(*o.length_m), words.number(*o.hard_low_m),
                    words.number(*o.hard_high_m)));
    reasons.push_back(fmt::format(
        "The belts lose about {:.2f} % of a set ({:.2f} mm), worth {:.0f} {}; as much as "
        "{:.0f} h of field work ({})",
        100 * *o.wear.share, *o.wear.mm, *o.cost.belts, o.cost.currency, *o.wear.field_hours_equivalent,
        o.wear.calibrated ? "estimate, from rates calibrated by height surveys"
                          : "estimate, every wear figure is an assumption"));
    if (const Option* soft = softest(options); soft != nullptr && *soft->hard_m < *o.hard_m)
        reasons.push_back(fmt::format("The softest way ({}) has {} paved of {} and {}", soft->id,
                                      words.number(*soft->hard_m), words.length(*soft->length_m),
                                      beside(*soft, o)));
}

// What did not win and needs an answer first.
void add_flips(const std::vector<Option>& options, const std::string& advised, Verdict& v) {
    for (const Option& o : options)
        if (o.id != advised)
            for (const std::string& a : o.answer_needed)
                v.would_flip.push_back(fmt::format("{}: {}", o.id, a));
}

Verdict nothing_can_be_done(const std::vector<Option>& options) {
    const Option* driven = first_of(options, Mode::drive);
    const Option* hauled = first_of(options, Mode::haul);
    Verdict v;
    std::string why;
    for (const Option* o : {driven, hauled})
        if (o != nullptr)
            why += fmt::format("{}{}: {}", why.empty() ? "" : ". ", o == driven ? "Driving" : "Hauling",
                               why_not_text(*o));
    v.sentence = fmt::format("As asked this move cannot be done. {}.", why);
    for (const Option& o : options)
        v.reasons.insert(v.reasons.end(), o.answer_needed.begin(), o.answer_needed.end());
    std::sort(v.reasons.begin(), v.reasons.end());
    v.reasons.erase(std::unique(v.reasons.begin(), v.reasons.end()), v.reasons.end());
    return v;
}

}  // namespace

Verdict make_verdict(Plan& plan, const std::vector<HeatNote>& notes) {
    const std::vector<Option>& options = plan.options;
    const Words words(plan.units);
    const Option* drive = cheapest(options, Mode::drive);
    const Option* haul = cheapest(options, Mode::haul);
    const bool driving = drive != nullptr && (haul == nullptr || *drive->cost.total <= *haul->cost.total);
    const Option* best = driving ? drive : haul;
    const HeatAnswer heat = heat_answer(options, best, notes);
    if (!plan.heat_search.is_null())
        plan.heat_search.set("answer", heat.word);
    if (best == nullptr)
        return nothing_can_be_done(options);
    Verdict v;
    v.option = best->id;
    v.mode = best->mode;
    if (driving) {
        v.sentence = fmt::format("Drive it: {}, about {}", drive_text(*best, words), money(*best));
        if (haul != nullptr)
            v.sentence += fmt::format("; hauling would cost about {:.0f}", *haul->cost.total);
        v.sentence += ".";
    } else {
        v.sentence =
            fmt::format("Haul it: {} by low-bed, about {}.", words.length(*best->hauled_m), money(*best));
        if (drive != nullptr)
            v.sentence += fmt::format(" Driving would be {}, and about {:.0f}.", drive_text(*drive, words),
                                      *drive->cost.total);
        else if (const Option* driven = first_of(options, Mode::drive))
            v.sentence += fmt::format(" Driving cannot be done: {}.", why_not_text(*driven));
    }
    v.reasons.push_back(
        fmt::format("Cheapest by mean cost of what can be done, on the {} basis", best->cost.basis));
    if (!heat.reason.empty())
        v.reasons.push_back(heat.reason);
    if (drive != nullptr)
        explain_drive(*drive, options, words, v.reasons);
    if (driving && haul == nullptr)
        if (const Option* hauled = first_of(options, Mode::haul))
            v.reasons.push_back(fmt::format("Hauling cannot be done: {}", why_not_text(*hauled)));
    if (!driving && drive != nullptr)
        v.reasons.push_back(fmt::format("Hauling saves about {:.0f} {} and the belts do not turn",
                                        *drive->cost.total - *best->cost.total, best->cost.currency));
    add_flips(options, best->id, v);
    return v;
}

}  // namespace loamway
