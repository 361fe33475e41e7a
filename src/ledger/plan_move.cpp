// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/plan_move.h"

#include <fmt/format.h>

#include "loamway/base/error.h"

namespace loamway {

namespace {

bool lubricates(const PlanStop& s) {
    return s.kind == "relube";
}

// A start stop is there only when something is done before leaving: powder.
bool powders_at_start(const PlanStop& s) {
    return s.kind == "start";
}

}  // namespace

MoveDone move_done(const Plan& plan, const Option& o) {
    if (o.mode == Mode::haul || o.mode == Mode::none)
        throw Error(ErrorKind::input, fmt::format("option {} is not driven", o.id),
                    "hauling wears no belts; note its cost with: loamway ledger cost");
    if (!o.length_m || !o.hard_m || !o.gravel_m || !o.earth_m)
        throw Error(ErrorKind::input, fmt::format("option {} has no route", o.id), "name one that has");
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
    m.since_relube_m = *o.length_m;
    for (const PlanStop& s : o.stops)
        if (lubricates(s) || powders_at_start(s)) {
            m.lubricated = true;
            m.since_relube_m = *o.length_m - s.at_m;
        }
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

}  // namespace loamway
