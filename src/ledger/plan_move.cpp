// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/plan_move.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/plan/belts_left.h"
#include "loamway/plan/plan_words.h"

namespace loamway {

namespace {

constexpr double least_share =
    0.1;  // of the planned length: below, and beyond its inverse, a slip of the pen

void drive_length(MoveDone& m, double length_m) {
    const double planned_m = m.length_m();
    if (planned_m <= 0 || length_m < planned_m * least_share || length_m > planned_m / least_share)
        throw Error(ErrorKind::input,
                    fmt::format("{:.1f} km driven, {:.1f} km planned: that is another move", length_m / 1000,
                                planned_m / 1000),
                    "plan the way that was driven, or note it with: loamway ledger move add --paved-km ...",
                    {{}, {}, "driven_km"});
    const double factor = length_m / planned_m;
    for (double* part : {&m.hard_m, &m.gravel_m, &m.earth_m, &m.hard_weighted_km, &m.gravel_weighted_km,
                         &m.earth_weighted_km, &m.since_relube_m})
        *part *= factor;
    for (std::optional<double>* part : {&m.wear_mm, &m.fuel_l})
        if (*part)
            **part *= factor;
    m.planned_m = planned_m;
}

void drive_hours(MoveDone& m, const Option& o, double seconds) {
    if (seconds <= 0)
        throw Error(ErrorKind::input, "it arrived before it left", "look at both times",
                    {{}, {}, "departed"});
    m.planned_hours = m.hours;
    const double driving_s = o.driving_s.value_or(0),
                 standing_s = o.duration_s.value_or(driving_s) - driving_s;
    // Who was faster than the planned standing alone stood for less.
    m.hours = (seconds > standing_s + seconds * least_share
                   ? seconds - standing_s
                   : seconds * driving_s / std::max(1.0, driving_s + standing_s)) /
              3600;
}

}  // namespace

MoveDone move_done(const Plan& plan, const Option& o) {
    if (o.mode == Mode::haul || o.mode == Mode::none)
        throw Error(ErrorKind::input, fmt::format("the option {} is not driven", option_name(o.id)),
                    "hauling wears no belts; note its cost with: loamway ledger cost");
    if (!o.length_m || !o.hard_m || !o.gravel_m || !o.earth_m)
        throw Error(ErrorKind::input, fmt::format("the option {} has no route", option_name(o.id)),
                    "name one that has");
    MoveDone m;
    m.hard_m = *o.hard_m;
    m.gravel_m = *o.gravel_m;
    m.earth_m = *o.earth_m;
    // Plans of older programs do not say how hard a kilometre was: it then counts as one.
    m.hard_weighted_km = o.wear.weighted_km[0].value_or(m.hard_m / 1000);
    m.gravel_weighted_km = o.wear.weighted_km[1].value_or(m.gravel_m / 1000);
    m.earth_weighted_km = o.wear.weighted_km[2].value_or(m.earth_m / 1000);
    m.sharp_turns = o.sharp_turns_hard.value_or(0);
    m.hours = o.driving_s.value_or(0) / 3600;
    const PowderLeft left = powder_left(o);
    m.lubricated = left.powdered;
    m.since_relube_m = left.since_m;
    if (o.heat) {
        m.bar_peak_c = o.heat->bar_peak_c;
        m.bar_high_c = o.heat->bar_high_c;
        m.guide_lug_peak_c = o.heat->guide_lug_peak_c;
        m.limit_c = o.heat->limit_c;
    }
    m.wear_mm = o.wear.mm;
    m.fuel_l = o.fuel_l;
    m.cost = o.cost.total;
    m.from = plan.move.from_name;
    m.to = plan.move.to_name;
    return m;
}

MoveDone move_done(const Plan& plan, const Option& option, const AsDriven& driven) {
    MoveDone m = move_done(plan, option);
    if (driven.length)
        drive_length(m, driven.length->metres());
    if (driven.departed) {
        m.departed = driven.departed;
        const std::optional<Instant> arrived = driven.arrived ? driven.arrived : option.arrive;
        if (arrived)
            drive_hours(m, option,
                        static_cast<double>((*arrived).unix_seconds - driven.departed->unix_seconds));
    }
    return m;
}

}  // namespace loamway
