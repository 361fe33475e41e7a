// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/ownership.h"

#include <gtest/gtest.h>

#include "checks.h"

namespace loamway {
namespace {

using test::check;
using test::number;

constexpr double near_enough = 1e-6;

Money units(double v) {
    return Money::from_units(v);
}
Duration hours(double v) {
    return Duration::from_hours(v);
}

TEST(Ownership, capital_recovery_matches_the_checks) {
    const Value& row = check("ownership.crf");
    EXPECT_NEAR(capital_recovery_factor(0.08, 15), number(row, "i=0.08,n=15"), 1e-8);
    EXPECT_NEAR(capital_recovery_factor(0.055, 8), number(row, "i=0.055,n=8"), 1e-8);
    EXPECT_NEAR(capital_recovery_factor(0, 10), number(row, "i=0,n=10"), 1e-12);
}

TEST(Ownership, the_published_worksheet_comes_out) {
    const Value& row = check("ownership.A3_29_worksheet");
    const Money cr = capital_recovery_per_year(units(160000), units(35391), 0.055, 8);
    const Money tih = insurance_per_year(units(160000), units(35391), 0.01);
    EXPECT_NEAR(cr.units(), number(row, "capital_recovery_i0.055"), near_enough);
    EXPECT_NEAR(cr.units(), number(row, "published"), 0.5);
    EXPECT_NEAR(tih.units(), number(row, "TIH_1pct"), near_enough);
    EXPECT_NEAR(tih.units(), number(row, "published_TIH"), 0.5);
}

// The worksheet's own example: a salvage value of 23 percent of 150,000.
TEST(Ownership, the_example_of_the_worksheet_comes_out) {
    const Value& row = check("ownership.A3_29_example");
    const Money salvage = units(number(row, "salvage_23pct_of_150000"));
    EXPECT_NEAR(salvage.units(), 0.23 * 150000, 1e-9);
    const Money price = units(2 * number(row, "TIH1pct") / 0.01 - salvage.units());
    EXPECT_NEAR(insurance_per_year(price, salvage, 0.01).units(), number(row, "TIH1pct"), near_enough);
    EXPECT_NEAR(price.units(), 130000, 1e-6);
    EXPECT_NEAR(capital_recovery_per_year(price, salvage, 0.08, 15).units(), number(row, "CR"), near_enough);
}

TEST(Ownership, remaining_value_matches_the_checks) {
    const Value& table = check("ownership.rv_table_150hp");
    for (const int years : {1, 5, 10, 15})
        for (const int per_year : {200, 400, 600}) {
            const std::string key = "n=" + std::to_string(years) + ",h=" + std::to_string(per_year);
            EXPECT_NEAR(remaining_value(units(1), years, per_year).units(), number(table, key), 1e-8) << key;
        }
    // The published table says 23 percent.
    EXPECT_NEAR(remaining_value(units(1), 15, 400).units(), number(check("ownership"), "rv_published_A3_29"),
                0.005);
    EXPECT_DOUBLE_EQ(remaining_value(units(1), 400, 1000).units(), 0);  // never negative, never up again
}

TEST(Ownership, value_coefficients_go_by_power) {
    EXPECT_DOUBLE_EQ(value_coefficients(Power::from_kw(250)).c1, 0.9756);
    EXPECT_DOUBLE_EQ(value_coefficients(Power::from_kw(112)).c1, 0.9756);  // 150.2 hp
    EXPECT_DOUBLE_EQ(value_coefficients(Power::from_kw(100)).c1, 0.9421);
    EXPECT_DOUBLE_EQ(value_coefficients(Power::from_kw(50)).c1, 0.9809);
}

// Sum of what the hours from one count to another cost. With an exponent of two the cost of an hour is
// linear, so the middle of a stretch stands for it exactly.
Money repair_between(Money list, int from, int to, const RepairFactors& f = {}) {
    return marginal_repair_per_h(list, hours(0.5 * (from + to)), f) * double(to - from);
}

TEST(Ownership, repair_matches_the_checks) {
    const Value& crawler = check("ownership.rm_accum_frac_4WDcrawler");
    for (const int h : {1000, 2000, 5000, 10000, 16000})
        EXPECT_NEAR(repair_between(units(1), 0, h).units(), number(crawler, std::to_string(h)), 1e-12);
    const Value& wheeled = check("ownership.rm_accum_frac_2WD");
    for (const int h : {1000, 5000, 6000, 10000})
        EXPECT_NEAR(repair_between(units(1), 0, h, {0.007, 2.0}).units(), number(wheeled, std::to_string(h)),
                    1e-12);
    const Money list = units(400000);
    EXPECT_NEAR(marginal_repair_per_h(list, hours(5000)).units(),
                number(check("ownership"), "rm_marginal_per_h_PL400000_H5000"), near_enough);
    EXPECT_NEAR(repair_between(list, 5000, 5010).units(),
                number(check("ownership"), "rm_interval_PL400000_5000_5010"), near_enough);
}

TEST(Ownership, the_hour_of_the_example_machine_matches_the_checks) {
    const HourOfMachine h = hour_of_machine({});
    const Value& full = check("ownership.machine_hour_full");
    const Value& marginal = check("ownership.machine_hour_marginal");
    EXPECT_NEAR(h.ownership_full.units(), number(full, "ownership_per_h"), near_enough);
    EXPECT_NEAR(h.ownership_marginal.units(), number(marginal, "ownership_per_h"), near_enough);
    EXPECT_NEAR(h.repair_without_belts.units(), number(full, "repair_per_h_without_belts"), near_enough);
    EXPECT_NEAR(h.salvage.units(), number(full, "salvage"), near_enough);
    EXPECT_NEAR(marginal_depreciation_per_h(units(400000), 10, 500).units(),
                number(check("ownership"), "dep_marginal_per_h_PL400000_n10_h500"), near_enough);
}

TEST(Ownership, marginal_depreciation_is_the_slope_of_the_value) {
    // Ten hours more over ten years raise the yearly mean by one.
    const double drop =
        (remaining_value(units(400000), 10, 500) - remaining_value(units(400000), 10, 501)).units();
    EXPECT_NEAR(marginal_depreciation_per_h(units(400000), 10, 500).units(), drop / 10, 2e-3);
}

TEST(Ownership, the_default_rates_are_those_of_the_example_machine) {
    const HourOfMachine h = hour_of_machine({});
    const Rates r;
    EXPECT_NEAR(h.ownership_full.units(), r.ownership_full_per_h.units(), 0.005);
    EXPECT_NEAR(h.ownership_marginal.units(), r.ownership_marginal_per_h.units(), 0.005);
    EXPECT_NEAR(h.repair_without_belts.units(), r.repair_per_h.units(), 0.005);
}

}  // namespace
}  // namespace loamway
