// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/costs.h"

#include <algorithm>
#include <cmath>

namespace loamway {
namespace {

// Keeps a length of exactly n intervals, or a time of exactly n billing steps, from being rounded up because
// of the last binary digit.
constexpr double step_slack = 1e-9;

double whole_steps(double ratio) {
    return std::ceil(ratio - step_slack);
}

/// What an hour costs for this long.
Money hourly(Money per_h, Duration t) {
    return per_h * t.hours();
}
Money by_km(Money per_km, Length s) {
    return per_km * s.km();
}

Duration preparing(const DriveFigures& f, const Rates& r) {
    Duration t;
    if (f.prepare)
        t += r.prepare;
    if (f.wash)
        t += r.wash;
    return t;
}

/// Cars that go along for `with` and drive home the same length on their own.
Money escort_cars(int cars, Duration with, Length length, const Rates& r) {
    const Money one =
        hourly(r.escort_per_h, with + length / r.car_speed) + by_km(r.escort_per_km, 2.0 * length);
    return one * cars;
}

void add_fuel(CostParts& c, Volume used, const Rates& r) {
    c.fuel = r.fuel_per_l * used.litres();
    c.oil = c.fuel * r.oil_share;
}

}  // namespace

Money CostParts::total() const {
    return labour + fuel + oil + belts + ownership + repair + lubricant + escort + truck + permit + toll +
           delay + shuttle;
}

CostParts& CostParts::operator+=(const CostParts& o) {
    labour += o.labour;
    fuel += o.fuel;
    oil += o.oil;
    belts += o.belts;
    ownership += o.ownership;
    repair += o.repair;
    lubricant += o.lubricant;
    escort += o.escort;
    truck += o.truck;
    permit += o.permit;
    toll += o.toll;
    delay += o.delay;
    shuttle += o.shuttle;
    return *this;
}

Volume fuel_per_hour(Power rated, double x, double n) {
    const double full_speed = (0.22 * x + 0.096) * rated.kw();
    return Volume::from_litres(full_speed * (1.0 - (-0.0045 * x * n + 0.00877 * n)));
}

int stops_needed(Length length, Length interval) {
    return std::max(0, static_cast<int>(whole_steps(length / interval)) - 1);
}

Duration drive_time(const DriveFigures& f, const Rates& r) {
    return f.driving + f.stopped + f.slow_extra + preparing(f, r) +
           (f.expect_delay ? r.expected_delay : Duration());
}

Volume drive_fuel(const DriveFigures& f, const Rates& r) {
    const Duration idle = f.stopped + f.slow_extra + preparing(f, r);
    return f.fuel + r.idle_per_h * idle.hours();
}

CostParts drive_cost(const DriveFigures& f, const Rates& r) {
    const Duration whole = drive_time(f, r);
    CostParts c;
    c.labour = hourly(r.wage_per_h * r.labour_factor, whole);
    add_fuel(c, drive_fuel(f, r), r);
    // Where a new set's price is drawn lower, what a worn one fetches may exceed it; wear earns nothing then.
    c.belts = std::max(Money(), r.belt_set + r.belt_fitting - r.belt_residual) * f.wear_share;
    c.lubricant = r.lubricant_per_stop * f.lubrications;
    c.ownership = hourly(r.ownership_per_h(), f.driving);
    c.repair = hourly(r.repair_per_h, f.driving);
    c.escort = escort_cars(std::max(r.escorts, f.wide_escorts), whole, f.length, r);
    c.permit = f.wide_permit ? r.drive_permit : Money();
    c.delay = hourly(r.delay_per_h, whole);
    if (f.shuttle && r.shuttle) {
        const Length there_and_back = 2.0 * f.length;
        c.shuttle =
            hourly(r.shuttle_per_h, there_and_back / r.car_speed) + by_km(r.shuttle_per_km, there_and_back);
    }
    return c;
}

Duration haul_time(const HaulFigures& f, const Rates& r) {
    return f.to_pickup_time + f.loaded_time + f.back_time + r.wait_time + r.load_time + r.unload_time;
}

Duration billed_time(const HaulFigures& f, const Rates& r) {
    return r.billing_step * whole_steps(haul_time(f, r) / r.billing_step);
}

CostParts haul_cost(const HaulFigures& f, const Rates& r) {
    const Duration crew = r.wait_time + r.load_time + f.loaded_time + r.unload_time + r.make_narrow_time;
    const Length all_runs = f.to_pickup + f.loaded + f.back;
    const Duration running = Duration::from_hours(r.machine_running_load_h);
    CostParts c;
    c.truck =
        std::max(r.truck_minimum, hourly(r.truck_per_h, billed_time(f, r)) + by_km(r.truck_per_km, all_runs));
    c.permit = f.permit ? r.permit : Money();
    c.toll = r.toll;
    c.labour = hourly(r.wage_per_h, crew);
    add_fuel(c, fuel_per_hour(f.engine, r.loading_load_fraction, r.speed_reduction_pct) * running.hours(), r);
    c.repair = hourly(r.repair_per_h, running);
    c.escort = escort_cars(std::max(r.haul_escorts, f.wide_escorts), f.loaded_time, f.loaded, r);
    c.delay = hourly(r.delay_per_h, haul_time(f, r));
    return c;
}

}  // namespace loamway
