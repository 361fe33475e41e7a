// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/break_even.h"

#include <gtest/gtest.h>

#include <functional>

#include "drive_or_haul.h"
#include "loamway/base/error.h"

namespace loamway {
namespace {

using test::check;
using test::MoveOfLength;
using test::number;

CostLine line(double fixed, double per_km) {
    return {Money::from_units(fixed), Money::from_units(per_km)};
}

BreakEven sweep_of(const MoveOfLength& m) {
    return sweep_break_even([&](Length l) { return m.drive(l); }, [&](Length l) { return m.haul(l); });
}

TEST(BreakEven, of_two_lines_matches_the_check) {
    const auto at = break_even(line(40, 8), line(520, 3.2));
    EXPECT_NEAR(at.value().km(), number(check("economics.breakeven_linear"), "Fd=40,a=8,Fh=520,b=3.2"), 1e-9);
    EXPECT_FALSE(break_even(line(40, 3.2), line(520, 3.2)));
    EXPECT_FALSE(break_even(line(40, 3), line(520, 3.2)));
    EXPECT_DOUBLE_EQ(break_even(line(600, 8), line(520, 3.2)).value().km(), 0);
}

TEST(BreakEven, sweep_matches_the_check) {
    const Value& row = check("economics.breakeven_sweep");
    const BreakEven b = sweep_of({});
    ASSERT_EQ(b.crossings.size(), 1u);
    EXPECT_NEAR(b.crossings[0].km(), row.find("crossings_L")->as_array()->at(0).number(), 1e-9);
    EXPECT_NEAR(b.haul_cheaper_from.value().km(), number(row, "first_haul_cheaper"), 1e-9);
    EXPECT_NEAR(b.drive_cheaper_below.value().km(), number(row, "last_drive_cheaper_below"), 1e-9);
}

TEST(BreakEven, fitted_lines_match_the_check) {
    const Value& row = check("economics.breakeven_ols");
    const MoveOfLength m;
    const Sweep every_km{Length::from_km(15), Length::from_km(150), Length::from_km(1)};
    const CostLine drive = fit_line([&](Length l) { return m.drive(l); }, every_km);
    const CostLine haul = fit_line([&](Length l) { return m.haul(l); }, every_km);
    EXPECT_NEAR(drive.fixed.units(), number(row, "Fd"), 1e-6);
    EXPECT_NEAR(drive.per_km.units(), number(row, "a"), 1e-6);
    EXPECT_NEAR(haul.fixed.units(), number(row, "Fh"), 1e-6);
    EXPECT_NEAR(haul.per_km.units(), number(row, "b"), 1e-6);
    EXPECT_NEAR(break_even(drive, haul).value().km(), number(row, "L_star"), 1e-6);
}

using Change = std::function<void(MoveOfLength&)>;

void set_ownership(MoveOfLength& m, double per_h) {
    m.defaults.rates.ownership_marginal_per_h = Money::from_units(per_h);
}

TEST(BreakEven, scenarios_match_the_checks) {
    const Value& rows = check("economics.breakeven_scenarios_km");
    const auto expect = [&](const char* name, const Change& change) {
        MoveOfLength m;
        change(m);
        EXPECT_NEAR(sweep_of(m).haul_cheaper_from.value().km(), number(rows, name), 1e-9) << name;
    };
    expect("base (60/30/10, dead 20, escort 1)", [](MoveOfLength&) {});
    expect("full ownership own_h=83.8", [](MoveOfLength& m) { set_ownership(m, 83.8); });
    expect("belt life on hard 2000 km", [](MoveOfLength& m) { m.defaults.wear_hard = 1.0 / 2000; });
    expect("all hard 100/0/0", [](MoveOfLength& m) { m.shares = {1, 0, 0}; });
    expect("dead 5 km each", [](MoveOfLength& m) { m.dead_km = 5; });
    expect("permit 0", [](MoveOfLength& m) { m.defaults.rates.permit = Money::from_units(0); });
}

TEST(BreakEven, variations_match_the_table_of_the_model) {
    // Stated in the model's table of variations only.
    const auto expect = [](double km, const Change& change) {
        MoveOfLength m;
        change(m);
        EXPECT_NEAR(sweep_of(m).haul_cheaper_from.value().km(), km, 1e-9);
    };
    expect(52.60, [](MoveOfLength& m) { set_ownership(m, 1.9); });
    expect(62.15, [](MoveOfLength& m) { m.defaults.rates.escorts = 0; });
    expect(48.10, [](MoveOfLength& m) { m.defaults.wear_hard = 1.0 / 8000; });
    expect(44.50, [](MoveOfLength& m) { m.shares = {0.2, 0.5, 0.3}; });
    expect(68.35, [](MoveOfLength& m) { m.dead_km = 60; });
    expect(72.15, [](MoveOfLength& m) { m.defaults.rates.truck_minimum = Money::from_units(800); });
}

TEST(BreakEven, a_billing_step_makes_driving_cheaper_again) {
    MoveOfLength m;
    m.defaults.rates.escorts = 0;
    const BreakEven b = sweep_of(m);
    EXPECT_EQ(b.crossings.size(), 3u);
    EXPECT_LT(b.haul_cheaper_from.value(), b.drive_cheaper_below.value());
}

TEST(BreakEven, steps_may_cross_more_than_once) {
    const CostOfLength even = [](Length l) { return Money::from_units(l.km()); };
    const CostOfLength stairs = [](Length l) {
        return Money::from_units(l.km() < 10 ? 5 : l.km() < 20 ? 15 : 16);
    };
    const BreakEven b =
        sweep_break_even(even, stairs, {Length::from_km(0), Length::from_km(30), Length::from_km(1)});
    ASSERT_EQ(b.crossings.size(), 3u);
    EXPECT_DOUBLE_EQ(b.crossings[0].km(), 6);
    EXPECT_DOUBLE_EQ(b.crossings[1].km(), 10);
    EXPECT_DOUBLE_EQ(b.crossings[2].km(), 16);
    EXPECT_DOUBLE_EQ(b.haul_cheaper_from.value().km(), 6);
    EXPECT_DOUBLE_EQ(b.drive_cheaper_below.value().km(), 16);
}

TEST(BreakEven, one_way_may_be_cheaper_all_along) {
    const CostOfLength cheap = [](Length l) { return Money::from_units(l.km()); };
    const CostOfLength dear = [](Length l) { return Money::from_units(l.km() + 1); };
    const BreakEven never = sweep_break_even(cheap, dear);
    EXPECT_TRUE(never.crossings.empty());
    EXPECT_FALSE(never.haul_cheaper_from);
    EXPECT_FALSE(never.drive_cheaper_below);
    const BreakEven always = sweep_break_even(dear, cheap);
    EXPECT_TRUE(always.crossings.empty());
    EXPECT_DOUBLE_EQ(always.haul_cheaper_from.value().km(), 0);
    EXPECT_DOUBLE_EQ(always.drive_cheaper_below.value().km(), 0);
}

TEST(BreakEven, a_sweep_needs_steps) {
    const CostOfLength any = [](Length) { return Money{}; };
    const Length km = Length::from_km(1);
    EXPECT_THROW((void)sweep_break_even(any, any, {km, km * 2, Length{}}), Error);
    EXPECT_THROW((void)sweep_break_even(any, any, {km * 2, km, km}), Error);
    EXPECT_THROW((void)fit_line(any, {km, km * 2, Length::from_mm(0.5)}), Error);
}

}  // namespace
}  // namespace loamway
