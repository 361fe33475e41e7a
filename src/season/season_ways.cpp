// SPDX-License-Identifier: Apache-2.0
#include "season_ways.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/costs/option_figures.h"
#include "loamway/plan/plan_words.h"

namespace loamway {

namespace {

WorkMinute whole_minutes(double seconds) {
    return static_cast<WorkMinute>(std::ceil(seconds / 60 - 1e-6));
}

/// What the low-bed costs from loading to unloading, without the minimum of a trip.
double loaded_trip(const HaulFigures& f, const Rates& r) {
    return r.truck_per_h.units() * billed_time(f, r).hours() + r.truck_per_km.units() * f.loaded.km();
}

/// Costs without the empty runs, which depend on where the low-bed comes from.
void set_costs(const Option& o, const Rates& rates, FoundWay& out) {
    OptionFigures figures = *o.figures;
    double low_bed = 0;
    for (HauledFigures& h : figures.hauled) {
        h.haul.to_pickup = h.haul.back = Length();
        h.haul.to_pickup_time = h.haul.back_time = Duration();
        low_bed += loaded_trip(h.haul, rates);
    }
    const CostParts parts = option_parts(figures, rates);
    out.parts_without_low_bed = (parts.total() - parts.truck).units();
    out.way.cost = cents_of(out.parts_without_low_bed);
    out.way.low_bed_cost = cents_of(low_bed);
}

void set_hand_overs(const Option& o, const PlanInputs& in, FoundWay& out) {
    out.pick_up = in.from.point;
    out.drop = in.to.point;
    out.way.load_after = 0;
    out.way.low_bed_minutes = out.way.minutes;
    if (o.mode != Mode::mixed)
        return;
    for (const PlanStop& s : o.stops) {
        if (s.handover == "load") {
            out.pick_up = s.point;
            out.way.load_after = static_cast<WorkMinute>((*s.arrive - in.depart).minutes());
        } else if (s.handover == "unload") {
            out.drop = s.point;
            out.way.low_bed_minutes =
                std::min(out.way.minutes, whole_minutes((*s.leave - in.depart).seconds())) -
                out.way.load_after;
        }
    }
}

}  // namespace

Cents cents_of(double units) {
    return std::llround(units * 100);
}

Mode mode_of(WayKind kind) {
    return kind == WayKind::driven ? Mode::drive : kind == WayKind::hauled ? Mode::haul : Mode::mixed;
}

std::vector<FoundWay> ways_in(const Plan& plan, const PlanInputs& in) {
    std::vector<FoundWay> out;
    for (const WayKind kind : {WayKind::driven, WayKind::hauled, WayKind::mixed}) {
        std::optional<FoundWay> best;
        for (const Option& o : plan.options) {
            if (o.mode != mode_of(kind) || !o.feasible || o.figures == nullptr || !o.duration_s)
                continue;
            FoundWay found;
            found.option = &o;
            found.way.kind = kind;
            found.way.minutes = whole_minutes(*o.duration_s);
            set_costs(o, in.rates, found);
            if (kind != WayKind::driven)
                set_hand_overs(o, in, found);
            if (!best || found.way.cost + found.way.low_bed_cost < best->way.cost + best->way.low_bed_cost)
                best = found;
        }
        if (best)
            out.push_back(*best);
    }
    return out;
}

std::vector<std::string> why_no_way(const Plan& plan) {
    std::vector<std::string> out;
    for (const Option& option : plan.options)
        for (const std::string& why : option.why_not)
            if (out.size() < 4)
                out.push_back(fmt::format("{}: {}", option_name(option.id), why));
    return out;
}

}  // namespace loamway
