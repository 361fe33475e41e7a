// SPDX-License-Identifier: Apache-2.0
// Check values: tests/belt/data/wear.json, whose first line names their source.
#include "loamway/belt/wear.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "loamway/text/value.h"
#include "support/test_files.h"

namespace loamway {
namespace {

const Value& checks() {
    static const Value document = [] {
        const std::string path = test::source_path("tests/belt/data/wear.json");
        return parse_json(test::slurp(path), path);
    }();
    return document;
}

double number(const Value& row, const char* key) {
    return row.find(key)->number();
}

SurfaceClass surface_of(const Value& row) {
    const std::string& word = *row.find("surface")->as_string();
    return word == "asphalt"  ? SurfaceClass::hard
           : word == "gravel" ? SurfaceClass::gravel
                              : SurfaceClass::earth;
}

Machine machine_m(Steering steering = Steering::differential) {
    Machine m;
    m.steering = steering;
    m.belts.bar_height = Length::from_mm(55);
    m.belts.worn_height = Length::from_mm(15);
    m.belts.ground_run = Length::from_metres(2);
    return m;
}

TEST(Wear, factor_matches_its_checks) {
    const Value::Array& rows = *checks().find("wear_factor")->as_array();
    ASSERT_EQ(rows.size(), 4u);
    for (const Value& row : rows) {
        const double f = wear_factor(Speed::from_kmh(number(row, "v_kmh")), number(row, "load_ratio"),
                                     Temperature::from_celsius(number(row, "T_surf")));
        EXPECT_NEAR(f, number(row, "F"), number(row, "tolerance")) << to_json(row);
    }
}

TEST(Wear, one_sharp_turn_matches_its_check) {
    const Value& row = *checks().find("turn_scrub");
    // The check states pi / 2 to six decimals and its result to four figures.
    EXPECT_NEAR(turn_wear_mm(SurfaceClass::hard, machine_m(), 1.0), number(row, "k_turn_mm"), 5e-7);
}

TEST(Wear, jobs_match_their_checks) {
    const Value::Array& rows = *checks().find("job_wear")->as_array();
    ASSERT_EQ(rows.size(), 5u);
    for (const Value& row : rows) {
        SCOPED_TRACE(to_json(row));
        const SurfaceClass surface = surface_of(row);
        const Speed v = Speed::from_kmh(number(row, "v_kmh"));
        const Temperature t = Temperature::from_celsius(number(row, "T_surf"));
        const Length length = Length::from_km(number(row, "km"));
        double mm = wear_mm(surface, length, v, 1.0, t);
        // The checks count sharp turns on hard surface only, at 2.0e-3 mm each: turn_scrub in two figures.
        if (surface == SurfaceClass::hard)
            mm += number(row, "turns90") * number(checks(), "job_turn_mm");
        EXPECT_NEAR(wear_factor(v, 1.0, t), number(row, "F"), 5e-5);
        EXPECT_NEAR(mm, number(row, "wear_mm"), 5.1e-5);
        EXPECT_NEAR(field_hours_equivalent(mm), number(row, "field_hour_equiv"), 0.0051);
        EXPECT_NEAR(field_hours_equivalent(mm) / (length / v).hours(), number(row, "ratio_per_hour"), 0.0051);
    }
}

TEST(Wear, concrete_has_its_own_rate_and_a_field_counts_by_the_hour) {
    const auto mm = [](RoadSurface s) {
        return ground_wear_mm(s, Length::from_km(10), Speed::from_kmh(25), 1, Temperature::from_celsius(50));
    };
    EXPECT_DOUBLE_EQ(mm(RoadSurface::asphalt), 0.040);
    EXPECT_DOUBLE_EQ(mm(RoadSurface::concrete), 0.045);
    EXPECT_DOUBLE_EQ(mm(RoadSurface::gravel), 0.030);
    EXPECT_DOUBLE_EQ(mm(RoadSurface::earth), 0.008);
    EXPECT_DOUBLE_EQ(mm(RoadSurface::field), 0.4 * 0.0133);
}

TEST(Wear, heat_counts_between_a_half_and_two_and_a_half) {
    const Speed v = Speed::from_kmh(25);
    EXPECT_DOUBLE_EQ(wear_factor(v, 1.0, Temperature::from_celsius(-60)), 0.5);
    EXPECT_DOUBLE_EQ(wear_factor(v, 1.0, Temperature::from_celsius(200)), 2.5);
}

TEST(Wear, grows_with_length_speed_and_load_and_adds_up_over_pieces) {
    const auto mm = [](double km, double kmh, double load) {
        return wear_mm(SurfaceClass::hard, Length::from_km(km), Speed::from_kmh(kmh), load,
                       Temperature::from_celsius(45));
    };
    EXPECT_NEAR(mm(3, 30, 1) + mm(7, 30, 1), mm(10, 30, 1), 1e-12);
    EXPECT_LT(mm(10, 20, 1), mm(10, 30, 1));
    EXPECT_LT(mm(10, 30, 1), mm(10, 30, 1.2));
    EXPECT_DOUBLE_EQ(mm(10, 0, 1), 0);
}

TEST(Wear, hard_wears_most_and_earth_least) {
    const auto mm = [](SurfaceClass c) {
        return wear_mm(c, Length::from_km(1), Speed::from_kmh(25), 1, Temperature::from_celsius(50));
    };
    EXPECT_DOUBLE_EQ(mm(SurfaceClass::hard), 4.0e-3);
    EXPECT_DOUBLE_EQ(mm(SurfaceClass::gravel), 3.0e-3);
    EXPECT_DOUBLE_EQ(mm(SurfaceClass::earth), 0.8e-3);
}

TEST(Wear, calibrated_rates_take_the_place_of_the_assumed_ones) {
    WearRates rates;
    rates.gravel_mm_per_km = 5.0e-3;
    rates.field_mm_per_h = 0.02;
    EXPECT_DOUBLE_EQ(wear_mm(SurfaceClass::gravel, Length::from_km(2), Speed::from_kmh(25), 1,
                             Temperature::from_celsius(50), rates),
                     0.01);
    EXPECT_DOUBLE_EQ(field_hours_equivalent(0.01, rates), 0.5);
}

TEST(Wear, steering_decides_how_much_a_turn_scrubs) {
    const double scrub = turn_wear_mm(SurfaceClass::hard, machine_m(), 1.0);
    const double bent = turn_wear_mm(SurfaceClass::hard, machine_m(Steering::articulated), 1.0);
    EXPECT_DOUBLE_EQ(bent, turn_wear_mm(SurfaceClass::hard, machine_m(Steering::rear_wheel), 1.0));
    EXPECT_NEAR(scrub / bent, 3.2, 1e-12);
    EXPECT_NEAR(turn_wear_mm(SurfaceClass::hard, machine_m(), 1.2) / scrub, std::pow(1.2, 1.3), 1e-12);
}

TEST(Wear, share_is_of_what_lies_between_new_and_worn_out) {
    EXPECT_DOUBLE_EQ(wear_share(0.4, machine_m().belts), 0.01);
}

TEST(Wear, load_ratio_compares_track_axles_with_the_first_state) {
    Machine m = machine_m();
    WorkingState bare;
    bare.axles = {Mass::from_kg(14250), Mass::from_kg(4750)};
    bare.tracked = {true, false};
    WorkingState full = bare;
    full.axles = {Mass::from_kg(21375), Mass::from_kg(30000)};
    m.states = {bare, full};
    EXPECT_DOUBLE_EQ(load_ratio(m, bare), 1.0);
    EXPECT_DOUBLE_EQ(load_ratio(m, full), 1.5);
}

}  // namespace
}  // namespace loamway
