// SPDX-License-Identifier: Apache-2.0
#include "budget_sums.h"

#include <algorithm>

#include "loamway/belt/motion.h"

namespace loamway {

namespace {

double worth_of_a_set(const Rates& r) {
    return (r.belt_set + r.belt_fitting - r.belt_residual).units();
}

}  // namespace

void add_road(const PlanInputs& in, const Option& o, JobBudget& job) {
    BudgetSum& s = job.sum;
    const auto known = [](const std::optional<double>& v) { return v.value_or(0.0); };
    const OptionCost& c = o.cost;
    const double total = known(c.total);
    s.road_cost = total;
    s.cost += {total, std::min(total, c.low.value_or(total)), std::max(total, c.high.value_or(total))};
    s.fuel_l += known(o.fuel_l);
    s.fuel_high_l += o.fuel_high_l.value_or(known(o.fuel_l));
    s.road = Duration::from_seconds(known(o.duration_s));
    s.driven_m = known(o.length_m);
    s.paved_m = known(o.hard_m);
    s.hauled_m = known(o.hauled_m);
    for (const PlanStop& stop : o.stops)
        s.stops += stop.at_m > 0 ? 1 : 0;
    CostCauses& why = s.causes;
    why.labour += known(c.labour);
    why.fuel += known(c.fuel);
    why.belts += known(c.belts);
    why.machine += known(c.machine);
    why.low_bed += known(c.truck) + known(c.permit);
    why.other += total - (known(c.labour) + known(c.fuel) + known(c.belts) + known(c.machine) +
                          known(c.truck) + known(c.permit));
    const double mm = known(o.wear.mm),
                 whole = (in.machine.belts.bar_height - in.machine.belts.worn_height).mm();
    const double low = known(o.wear.low), high = known(o.wear.high), worth = worth_of_a_set(in.rates);
    s.wear_mm += {mm, low * whole, high * whole};
    s.wear_share += {known(o.wear.share), low, high};
    s.belt_money += {known(c.belts), low * worth, high * worth};
    WearCauses& wear = s.wear_causes;
    wear.paved = known(o.wear.weighted_km[0]) * in.wear.rates.hard_mm_per_km;
    wear.gravel = known(o.wear.weighted_km[1]) * in.wear.rates.gravel_mm_per_km;
    wear.earth = known(o.wear.weighted_km[2]) * in.wear.rates.earth_mm_per_km;
    wear.turns = std::max(0.0, mm - wear.paved - wear.gravel - wear.earth);
    if (o.heat) {
        job.bar_peak_c = o.heat->bar_peak_c;
        job.bar_high_c = o.heat->bar_high_c;
        job.limit_c = o.heat->limit_c;
        job.heat_calibrated = o.heat->calibrated;
    }
}

void add_field(const PlanInputs& in, const FieldJob& job, BudgetSum& s) {
    const Rates& r = in.rates;
    const double hours = job.work.hours();
    s.field = job.work;
    const FuelRate rate = fuel_rate(in.machine.engine, job.load, r.speed_reduction_pct);
    const double litres = hours * (job.fuel_per_h ? job.fuel_per_h->litres() : rate.litres_per_hour);
    const double litres_high = job.fuel_per_h ? litres : hours * rate.upper_litres_per_hour;
    const double per_litre = r.fuel_per_l.units() * (1 + r.oil_share);
    const double mm = hours * in.wear.rates.field_mm_per_h;
    const double share = wear_share(mm, in.machine.belts), off = in.wear.field_sd_share;
    const double belts = share * worth_of_a_set(r);
    const double labour = hours * r.wage_per_h.units() * r.labour_factor;
    const double machine = hours * (r.ownership_per_h() + r.repair_per_h).units();
    s.fuel_l += litres;
    s.fuel_high_l += std::max(litres, litres_high);
    s.wear_mm += {mm, mm * (1 - off), mm * (1 + off)};
    s.wear_share += {share, share * (1 - off), share * (1 + off)};
    s.belt_money += {belts, belts * (1 - off), belts * (1 + off)};
    s.wear_causes.field += mm;
    s.causes.labour += labour;
    s.causes.fuel += litres * per_litre;
    s.causes.belts += belts;
    s.causes.machine += machine;
    s.field_cost = labour + litres * per_litre + belts + machine;
    s.cost += {s.field_cost, s.field_cost - belts * off,
               s.field_cost + belts * off + std::max(0.0, litres_high - litres) * per_litre};
}

CostCauses& CostCauses::operator+=(const CostCauses& o) {
    labour += o.labour;
    fuel += o.fuel;
    belts += o.belts;
    machine += o.machine;
    low_bed += o.low_bed;
    other += o.other;
    return *this;
}

WearCauses& WearCauses::operator+=(const WearCauses& o) {
    paved += o.paved;
    gravel += o.gravel;
    earth += o.earth;
    turns += o.turns;
    field += o.field;
    return *this;
}

BudgetSum& BudgetSum::operator+=(const BudgetSum& o) {
    cost += o.cost;
    wear_mm += o.wear_mm;
    wear_share += o.wear_share;
    belt_money += o.belt_money;
    fuel_l += o.fuel_l;
    fuel_high_l += o.fuel_high_l;
    road_cost += o.road_cost;
    field_cost += o.field_cost;
    road += o.road;
    field += o.field;
    driven_m += o.driven_m;
    paved_m += o.paved_m;
    hauled_m += o.hauled_m;
    stops += o.stops;
    causes += o.causes;
    wear_causes += o.wear_causes;
    return *this;
}

}  // namespace loamway
