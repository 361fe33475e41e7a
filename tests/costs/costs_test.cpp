// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/costs.h"

#include <gtest/gtest.h>

#include <charconv>

#include "checks.h"

namespace loamway {
namespace {

using test::check;
using test::check_defaults;
using test::CheckDefaults;
using test::drive_of;
using test::haul_of;
using test::number;

constexpr double near_enough = 1e-6;

void expect_drive(const Value& row, const DriveFigures& f, const CheckDefaults& c) {
    SCOPED_TRACE(to_json(row));
    const CostParts p = drive_cost(f, c.rates);
    EXPECT_NEAR(f.length.km(), number(row, "L"), near_enough);
    EXPECT_NEAR(f.driving.hours(), number(row, "T_move"), near_enough);
    EXPECT_EQ(stops_needed(f.length, c.rates.relube_interval), static_cast<int>(number(row, "n_stops")));
    EXPECT_NEAR(drive_time(f, c.rates).hours(), number(row, "T"), near_enough);
    EXPECT_NEAR(p.labour.units(), number(row, "labour"), near_enough);
    EXPECT_NEAR(p.fuel.units(), number(row, "fuel"), near_enough);
    EXPECT_NEAR(p.oil.units(), number(row, "engine_oil"), near_enough);
    EXPECT_NEAR(f.wear_share, number(row, "belt_wear_share"), near_enough);
    EXPECT_NEAR(p.belts.units(), number(row, "belt"), near_enough);
    EXPECT_NEAR(p.lubricant.units(), number(row, "lubricant"), near_enough);
    EXPECT_NEAR(p.ownership.units(), number(row, "ownership"), near_enough);
    EXPECT_NEAR(p.repair.units(), number(row, "repair"), near_enough);
    EXPECT_NEAR(p.escort.units(), number(row, "escort"), near_enough);
    EXPECT_NEAR(p.delay.units(), number(row, "delay"), near_enough);
    EXPECT_NEAR(p.shuttle.units(), number(row, "shuttle"), near_enough);
    EXPECT_NEAR(p.total().units(), number(row, "total"), near_enough);
    EXPECT_NEAR(drive_fuel(f, c.rates).litres() * c.rates.fuel_per_l.units(), number(row, "fuel"),
                near_enough);
}

void expect_haul(const Value& row, const HaulFigures& f, const CheckDefaults& c) {
    SCOPED_TRACE(to_json(row));
    const CostParts p = haul_cost(f, c.rates);
    EXPECT_NEAR(haul_time(f, c.rates).hours(), number(row, "T_truck"), near_enough);
    EXPECT_NEAR(billed_time(f, c.rates).hours(), number(row, "T_billed"), near_enough);
    EXPECT_NEAR(p.truck.units(), number(row, "truck"), near_enough);
    EXPECT_EQ(p.truck.units() > number(row, "veh_before_min"), *row.find("min_binds")->as_bool());
    EXPECT_NEAR(p.permit.units(), number(row, "permit"), near_enough);
    EXPECT_NEAR(p.toll.units(), number(row, "toll"), near_enough);
    EXPECT_NEAR(p.escort.units(), number(row, "escort"), near_enough);
    EXPECT_NEAR(p.labour.units(), number(row, "crew"), near_enough);
    EXPECT_NEAR((p.fuel + p.oil + p.repair).units(), number(row, "machine_run"), near_enough);
    EXPECT_NEAR(p.delay.units(), number(row, "delay"), near_enough);
    EXPECT_NEAR(p.total().units(), number(row, "total"), near_enough);
}

TEST(DriveCost, matches_the_worked_move) {
    const CheckDefaults c = check_defaults();
    expect_drive(check("economics.drive_24_12_6"), drive_of(c, 24, 12, 6), c);
}

TEST(HaulCost, matches_the_worked_hauls) {
    CheckDefaults c = check_defaults();
    expect_haul(check("economics.haul_20_40_20"), haul_of(c, 20, 40, 20), c);
    expect_haul(check("economics.haul_5_10_5_min"), haul_of(c, 5, 10, 5), c);
    // This row was made without loading time and with half the minimum charge.
    c.rates.load_time = Duration::from_hours(0);
    c.rates.truck_minimum = Money::from_units(200);
    expect_haul(check("economics.haul_5_10_5_min200"), haul_of(c, 5, 10, 5), c);
}

TEST(MixedCost, is_the_sum_of_its_legs) {
    const CheckDefaults c = check_defaults();
    // Lengths by surface follow from the rows' length, time and wear; so do the low-bed's 27 km empty of 59.
    DriveFigures first = drive_of(c, 2, 3, 3), last = drive_of(c, 1, 1, 2);
    first.shuttle = last.shuttle = false;
    const HaulFigures haul = haul_of(c, 20, 32, 7);
    expect_drive(check("economics.mixed.drive1"), first, c);
    expect_haul(check("economics.mixed.haul"), haul, c);
    expect_drive(check("economics.mixed.drive2"), last, c);
    CostParts sum = drive_cost(first, c.rates);
    sum += haul_cost(haul, c.rates);
    sum += drive_cost(last, c.rates);
    EXPECT_NEAR(sum.total().units(), number(check("economics.mixed"), "total"), near_enough);
}

TEST(StopsNeeded, matches_the_checks) {
    const Value::Object& rows = *check("economics.n_stops").as_object();
    ASSERT_EQ(rows.size(), 9u);
    for (const auto& [km_text, stops] : rows) {
        double km = -1;
        std::from_chars(km_text.data(), km_text.data() + km_text.size(), km);
        EXPECT_EQ(stops_needed(Length::from_km(km), Length::from_km(15)), static_cast<int>(stops.number()))
            << km_text;
    }
}

TEST(Fuel, matches_the_checks) {
    const Value& row = check("ownership.fuel_lph_250kW");
    const Power p = Power::from_kw(250);
    EXPECT_NEAR(fuel_per_hour(p, 0.3, 0).litres(), number(row, "X=0.3,N=0"), near_enough);
    EXPECT_NEAR(fuel_per_hour(p, 0.5, 0).litres(), number(row, "X=0.5,N=0"), near_enough);
    EXPECT_NEAR(fuel_per_hour(p, 0.3, 30).litres(), number(row, "X=0.3,Nred=30"), near_enough);
}

TEST(DriveCost, every_standing_hour_idles_and_is_paid) {
    const CheckDefaults c = check_defaults();
    const DriveFigures plain = drive_of(c, 10, 0, 0);
    const auto litres_more = [&](auto change) {
        CheckDefaults other = c;
        DriveFigures f = plain;
        change(f, other.rates);
        EXPECT_NEAR((drive_time(f, other.rates) - drive_time(plain, c.rates)).hours(), 0.5, 1e-12);
        EXPECT_NEAR((drive_cost(f, other.rates).labour - drive_cost(plain, c.rates).labour).units(), 14,
                    1e-9);
        EXPECT_NEAR((drive_cost(f, other.rates).ownership - drive_cost(plain, c.rates).ownership).units(), 0,
                    1e-12);
        return (drive_fuel(f, other.rates) - drive_fuel(plain, c.rates)).litres();
    };
    const Duration half = Duration::from_hours(0.5);
    EXPECT_NEAR(litres_more([&](DriveFigures& f, Rates&) { f.stopped += half; }), 3, 1e-9);
    EXPECT_NEAR(litres_more([&](DriveFigures& f, Rates&) { f.slow_extra = half; }), 3, 1e-9);
    EXPECT_NEAR(litres_more([&](DriveFigures&, Rates& r) { r.prepare += half; }), 3, 1e-9);
    EXPECT_NEAR(litres_more([&](DriveFigures&, Rates& r) { r.wash = half; }), 3, 1e-9);
    // Nobody knows what the engine does while the move is delayed.
    EXPECT_NEAR(litres_more([&](DriveFigures&, Rates& r) { r.expected_delay = half; }), 0, 1e-12);
}

TEST(DriveCost, a_later_leg_may_go_without_preparation_wash_and_shuttle) {
    CheckDefaults c = check_defaults();
    c.rates.wash = Duration::from_hours(1);
    DriveFigures f = drive_of(c, 10, 0, 0);
    const CostParts first = drive_cost(f, c.rates);
    f.prepare = f.wash = f.shuttle = false;
    const CostParts later = drive_cost(f, c.rates);
    EXPECT_NEAR((first.labour - later.labour).units(), 28 * 1.25, 1e-9);
    EXPECT_DOUBLE_EQ(later.shuttle.units(), 0);
    f.shuttle = true;
    c.rates.shuttle = false;
    EXPECT_DOUBLE_EQ(drive_cost(f, c.rates).shuttle.units(), 0);
}

TEST(DriveCost, the_basis_changes_only_what_an_hour_of_the_machine_costs) {
    Rates r;
    const CheckDefaults c = check_defaults();
    const DriveFigures f = drive_of(c, 25, 0, 0);
    const CostParts marginal = drive_cost(f, r);
    r.basis = CostBasis::full;
    const CostParts full = drive_cost(f, r);
    EXPECT_NEAR(marginal.ownership.units(), 1.90, 1e-12);
    EXPECT_NEAR(full.ownership.units(), 83.79, 1e-12);
    EXPECT_NEAR((full.total() - marginal.total()).units(), 83.79 - 1.90, 1e-9);
}

TEST(DriveCost, delay_and_residual_value_count) {
    CheckDefaults c = check_defaults();
    c.rates.delay_per_h = Money::from_units(100);
    c.rates.belt_residual = Money::from_units(600);
    const DriveFigures f = drive_of(c, 24, 12, 6);
    const CostParts p = drive_cost(f, c.rates);
    EXPECT_NEAR(p.delay.units(), 261, 1e-9);
    EXPECT_NEAR(p.belts.units(), 0.0075 * 16000, 1e-9);
}

TEST(HaulCost, billing_steps_are_exact) {
    CheckDefaults c = check_defaults();
    c.rates.wait_time = c.rates.unload_time = Duration::from_hours(0);
    HaulFigures f;
    const auto billed = [&](double hours) {
        c.rates.load_time = Duration::from_hours(hours);
        return billed_time(f, c.rates).hours();
    };
    EXPECT_DOUBLE_EQ(billed(0), 0);
    EXPECT_DOUBLE_EQ(billed(0.1 + 0.2 - 0.05), 0.25);  // a quarter but for the last binary digit
    EXPECT_DOUBLE_EQ(billed(0.251), 0.5);
    EXPECT_DOUBLE_EQ(billed(3), 3);
}

TEST(HaulCost, escorts_toll_and_making_narrow_count) {
    CheckDefaults c = check_defaults();
    const HaulFigures f = haul_of(c, 20, 55, 20);
    const CostParts before = haul_cost(f, c.rates);
    c.rates.haul_escorts = 2;
    c.rates.toll = Money::from_units(17);
    c.rates.make_narrow_time = Duration::from_hours(2);
    c.rates.delay_per_h = Money::from_units(10);
    const CostParts after = haul_cost(f, c.rates);
    // Two cars: an hour along, 55 km home at 60 km/h, 110 km each.
    EXPECT_NEAR(after.escort.units(), 2 * (30 * (1 + 55.0 / 60) + 0.45 * 110), 1e-9);
    EXPECT_DOUBLE_EQ(after.toll.units(), 17);
    EXPECT_NEAR((after.labour - before.labour).units(), 56, 1e-9);
    EXPECT_NEAR(after.delay.units(), 10 * haul_time(f, c.rates).hours(), 1e-9);
    EXPECT_DOUBLE_EQ(after.truck.units(), before.truck.units());
}

}  // namespace
}  // namespace loamway
