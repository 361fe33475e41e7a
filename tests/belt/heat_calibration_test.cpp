// SPDX-License-Identifier: Apache-2.0
// Infrared readings: section H of tests/belt/data/belt.json. Its program worked with 60 cells and 5 s; the
// sensitivities are forward differences of one per cent.
#include "loamway/belt/heat_calibration.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "belt_checks.h"

namespace loamway {
namespace {

using test::check_machine;
using test::number;
using test::word;

constexpr double last_digit = 0.0051;
const BarSolver as_checked{60, Duration::from_seconds(5)};

Conditions air(double celsius) {
    Conditions out;
    out.air = Temperature::from_celsius(celsius);
    return out;
}

std::vector<TripSegment> one_leg(double km, double kmh) {
    TripSegment s;
    s.length = Length::from_km(km);
    s.speed = Speed::from_kmh(kmh);
    return {s};
}

HeatReading reading(ReadingPlace place, double seconds, double celsius = 50) {
    return {place, Duration::from_seconds(seconds), Temperature::from_celsius(celsius)};
}

HeatCalibration calibrate(const std::vector<HeatReading>& readings, double km = 20,
                          BarSolver solver = as_checked) {
    const Machine m = check_machine("M");
    return calibrate_heat(m, m.states.front(), air(25), one_leg(km, 40), readings, {}, solver);
}

TEST(HeatCalibration, predictions_match_their_checks) {
    const Value& h1 = test::section("H1_IR_prediction_M_20km_40kmh_25C");
    const double core = number(h1, "core_at_stop");
    for (const Value& r : *h1.find("after_stop")->as_array()) {
        const double t = number(r, "t_s");
        const HeatCalibration c = calibrate({reading(ReadingPlace::flank, t), reading(ReadingPlace::tip, t)});
        EXPECT_NEAR(c.core_before.celsius(), core, last_digit);
        EXPECT_NEAR(c.predicted_before.at(0).celsius(), number(r, "flank_mid"), 0.011);
        EXPECT_NEAR(c.predicted_before.at(1).celsius(), number(r, "tip"), 0.011);
    }
}

TEST(HeatCalibration, the_core_hides_behind_the_surface_as_checked) {
    // This section was made with 40 cells and 10 s.
    for (const Value& r : test::rows("H0_core_vs_surface_ratio_M_40kmh_25C")) {
        SCOPED_TRACE(to_json(r));
        const HeatCalibration c = calibrate(
            {reading(ReadingPlace::flank, 120), reading(ReadingPlace::tip, 120)}, number(r, "km"), {});
        const double core = c.core_before.celsius(), flank = c.predicted_before.at(0).celsius();
        const double tip = c.predicted_before.at(1).celsius();
        EXPECT_NEAR(core, number(r, "core_at_stop"), last_digit);
        EXPECT_NEAR(flank, number(r, "flank_120s"), last_digit);
        EXPECT_NEAR(tip, number(r, "tip_120s"), last_digit);
        EXPECT_NEAR((core - 25) / (flank - 25), number(r, "ratio_core_to_flank_rise"), 6e-4);
        EXPECT_NEAR((core - 25) / (tip - 25), number(r, "ratio_core_to_tip_rise"), 6e-4);
    }
}

TEST(HeatCalibration, sensitivities_match_their_checks) {
    const Machine m = check_machine("M");
    std::vector<HeatReading> readings;
    for (const double t : {60.0, 300.0, 600.0, 1200.0}) {
        readings.push_back(reading(ReadingPlace::tip, t));
        readings.push_back(reading(ReadingPlace::flank, t));
    }
    const HeatUncertainty u =
        heat_uncertainty(m, m.states.front(), air(25), one_leg(20, 40), readings, {}, as_checked);
    const Value::Array& list = test::rows("H2_IR_sensitivity_K_per_unit_ln");
    ASSERT_EQ(list.size(), heat_parameter_count);
    for (std::size_t p = 0; p < list.size(); ++p) {
        SCOPED_TRACE(word(list[p], "param"));
        EXPECT_NEAR(u.core[p], number(list[p], "d_core"), 0.02);
        for (std::size_t i = 0; i < 4; ++i) {
            EXPECT_NEAR(u.readings[2 * i][p], list[p].find("d_tip")->as_array()->at(i).number(), 0.03);
            EXPECT_NEAR(u.readings[2 * i + 1][p], list[p].find("d_flank")->as_array()->at(i).number(), 0.03);
        }
    }
}

TEST(HeatCalibration, what_readings_can_tell_matches_its_checks) {
    const Machine m = check_machine("M");
    const Value::Array& list = test::rows("H3_identifiability");
    ASSERT_EQ(list.size(), 9u);
    for (const Value& r : list) {
        SCOPED_TRACE(to_json(r));
        std::vector<HeatReading> readings;
        for (const Value& text : *r.find("readings")->as_array()) {
            const std::string& s = *text.as_string();
            const auto place = s.starts_with("tip") ? ReadingPlace::tip : ReadingPlace::flank;
            readings.push_back(reading(place, std::stoi(s.substr(s.find('@') + 1))));
        }
        const HeatUncertainty u =
            heat_uncertainty(m, m.states.front(), air(25), one_leg(20, 40), readings, {}, as_checked);
        const char* names[] = {"ln_Sq", "ln_Sh", "ln_k", "ln_eta_c"};
        for (std::size_t p = 0; p < heat_parameter_count; ++p)
            EXPECT_NEAR(u.sd[p], number(*r.find("sd"), names[p]), 0.0011) << names[p];
        EXPECT_NEAR(u.core_sd_before_k, number(r, "core_sd_prior"), 0.02);
        EXPECT_NEAR(u.core_sd_k, number(r, "core_sd_post"), 0.02);
    }
}

TEST(HeatCalibration, worked_update_matches_its_check) {
    const Value& r = test::section("H4_worked_IR_update");
    const HeatCalibration c = calibrate({reading(ReadingPlace::flank, 300, 61.0)});
    ASSERT_FALSE(c.refused) << *c.refused;
    EXPECT_NEAR(c.predicted_before.at(0).celsius(), number(r, "predicted_before"), 0.006);
    EXPECT_NEAR(c.log_scale, number(r, "ln_Sq"), 3e-4);
    EXPECT_NEAR(c.scale, number(r, "Sq"), 3e-4);
    EXPECT_NEAR(c.log_scale_sd, number(r, "sd_ln_Sq"), 3e-4);
    EXPECT_NEAR(c.predicted_after.at(0).celsius(), number(r, "predicted_after"), 0.011);
    EXPECT_NEAR(c.core_before.celsius(), number(r, "core_at_stop_before"), last_digit);
    EXPECT_NEAR(c.core_after.celsius(), number(r, "core_at_stop_after"), 0.02);
    // The scale alone would promise less than what the joint analysis admits: about 5 K.
    EXPECT_GT(c.core_sd_k, 50.34 * c.log_scale_sd);
    EXPECT_NEAR(c.core_sd_k, 5.8, 0.7);
}

TEST(HeatCalibration, bands_of_the_core_match_their_checks) {
    const Value& worked = test::section("H4_worked_IR_update");
    for (const Value& r : test::rows("H5_core_band")) {
        SCOPED_TRACE(to_json(r));
        const Machine m = check_machine(word(r, "machine"));
        const auto core = [&](double log_scale) {
            TripOptions o;
            o.heat.scales.heat = std::exp(log_scale);
            return run_trip(m, m.states.front(), air(number(r, "T_air")),
                            one_leg(number(r, "km"), number(r, "v_kmh")), o)
                .bar_end.celsius();
        };
        const Value::Array& prior = *r.find("core_Sq_prior_m1_0_p1sd")->as_array();
        const Value::Array& after = *r.find("core_after_one_IR_m1_0_p1sd")->as_array();
        for (std::size_t i = 0; i < 3; ++i) {
            const double side = static_cast<double>(i) - 1;
            EXPECT_NEAR(core(0.4 * side), prior[i].number(), 0.06);
            EXPECT_NEAR(core(number(worked, "ln_Sq") + number(worked, "sd_ln_Sq") * side), after[i].number(),
                        0.06);
        }
    }
}

TEST(HeatCalibration, finds_the_scale_that_made_the_reading) {
    const Machine m = check_machine("L");
    TripOptions truth;
    truth.heat.scales.heat = 0.8;
    std::vector<TripSegment> trip = one_leg(30, 35);
    trip.front().stop = Duration::from_minutes(10);
    trip.push_back(trip.front());
    std::vector<HeatReading> readings;
    for (const double t : {300.0, 60.0}) {
        readings.push_back(reading(ReadingPlace::flank, t));
        readings.back().sd_k = 0.05;
    }
    const HeatCalibration made = calibrate_heat(m, m.states.front(), air(20), trip, readings, truth);
    for (std::size_t i = 0; i < readings.size(); ++i)
        readings[i].value = made.predicted_before[i];
    const HeatCalibration c = calibrate_heat(m, m.states.front(), air(20), trip, readings);
    ASSERT_FALSE(c.refused) << *c.refused;
    EXPECT_NEAR(c.scale, 0.8, 1e-3);
    EXPECT_NEAR(c.core_after.celsius(), made.core_before.celsius(), 0.05);
}

TEST(HeatCalibration, refuses_with_a_reason) {
    const auto reason = [](const HeatReading& r, double km = 20) {
        const HeatCalibration c = calibrate({r}, km);
        EXPECT_EQ(c.scale, 1.0);
        EXPECT_EQ(c.core_after, c.core_before);
        return c.refused.value_or("");
    };
    EXPECT_NE(reason(reading(ReadingPlace::tip, 60)).find("flank"), std::string::npos);
    EXPECT_NE(reason(reading(ReadingPlace::flank, 1500)).find("20"), std::string::npos);
    EXPECT_NE(reason(reading(ReadingPlace::flank, 60, 900)).find("900"), std::string::npos);
    EXPECT_NE(reason(reading(ReadingPlace::flank, 60, 180)).find("machine"), std::string::npos);
    EXPECT_NE(reason(reading(ReadingPlace::flank, 60, 26), 0.3).find("10 km"), std::string::npos);
    EXPECT_NE(calibrate({}).refused.value_or("").find("no reading"), std::string::npos);
    EXPECT_NEAR(calibrate({}).core_sd_k, 20.19, 0.02);
}

TEST(HeatCalibration, a_tip_may_be_read_late_or_after_soft_ground) {
    EXPECT_FALSE(calibrate({reading(ReadingPlace::tip, 700, 47)}).refused);
    const Machine m = check_machine("M");
    std::vector<TripSegment> trip = one_leg(30, 30);
    trip.push_back(trip.front());
    trip.back().surface = RoadSurface::gravel;
    EXPECT_FALSE(
        calibrate_heat(m, m.states.front(), air(25), trip, {reading(ReadingPlace::tip, 60, 45)}).refused);
}

}  // namespace
}  // namespace loamway
