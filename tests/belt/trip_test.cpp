// SPDX-License-Identifier: Apache-2.0
// Whole trips: sections C2 and C3 of tests/belt/data/belt.json through run_trip, and the rules around them.
#include "loamway/belt/trip.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "belt_checks.h"
#include "loamway/base/error.h"

namespace loamway {
namespace {

using test::check_machine;
using test::number;
using test::surface_of;
using test::word;

constexpr double last_digit = 0.0051;

Conditions air(double celsius) {
    Conditions out;
    out.air = Temperature::from_celsius(celsius);
    return out;
}

TripSegment leg(double km, RoadSurface surface, double kmh, double stop_min = 0) {
    TripSegment s;
    s.length = Length::from_km(km);
    s.surface = surface;
    s.speed = Speed::from_kmh(kmh);
    s.stop = Duration::from_minutes(stop_min);
    return s;
}

TripResult run(const std::string& machine, double air_c, const std::vector<TripSegment>& segments,
               const TripOptions& options = {}) {
    const Machine m = check_machine(machine);
    return run_trip(m, m.states.front(), air(air_c), segments, options);
}

TEST(Trip, one_leg_matches_the_trip_table) {
    for (const Value& r : test::rows("C2_trip_table")) {
        SCOPED_TRACE(to_json(r));
        const double kmh = number(r, "v_kmh");
        const TripResult t =
            run(word(r, "machine"), number(r, "T_air"), {leg(number(r, "km"), surface_of(r), kmh)});
        EXPECT_NEAR(t.bar_end.celsius(), number(r, "core_end"), last_digit);
        EXPECT_NEAR(t.bar_mean_end.celsius(), number(r, "mean_end"), last_digit);
        EXPECT_NEAR(t.bar_tip_end.celsius(), number(r, "tip_end"), last_digit);
        EXPECT_NEAR(t.bar_flank_end.celsius(), number(r, "flank_mid_end"), last_digit);
        EXPECT_NEAR(t.aging_min, number(r, "eq110_min"), 0.0006 + 0.0003 * t.aging_min);
        EXPECT_EQ(t.to_limit.has_value(), !r.find("min_to_limit")->is_null());
        EXPECT_EQ(t.segments.front().cap, SpeedCap::none);
    }
}

TEST(Trip, mixed_trip_matches_its_check) {
    const Value& trip = test::section("C3_mixed_trip");
    std::vector<TripSegment> segments;
    for (const Value& s : *trip.find("segments")->as_array())
        segments.push_back(
            leg(number(s, "km"), surface_of(s), number(s, "v_kmh"), number(s, "stop_after_s") / 60));
    const TripResult t = run(word(trip, "machine"), 30, segments);
    EXPECT_NEAR(t.bar_peak.celsius(), number(trip, "core_peak"), last_digit);
    EXPECT_NEAR(t.aging_min, number(trip, "eq110_min"), 0.005);
    const Value::Array& legs = *trip.find("after_each_leg")->as_array();
    std::size_t i = 0;
    for (const SegmentRecord& s : t.segments) {
        EXPECT_NEAR(s.bar_core.celsius(), number(legs.at(i), "core"), last_digit);
        EXPECT_NEAR(s.bar_mean.celsius(), number(legs.at(i), "mean"), last_digit);
        EXPECT_NEAR(s.bar_tip.celsius(), number(legs.at(i), "tip"), last_digit);
        EXPECT_NEAR(s.bar_flank.celsius(), number(legs.at(i), "flank"), last_digit);
        ++i;
        if (s.segment.stop.seconds() > 0) {
            EXPECT_NEAR(s.bar_after_stop.celsius(), number(legs.at(i), "core"), last_digit);
            ++i;
        }
    }
    EXPECT_EQ(i, legs.size());
    EXPECT_NEAR(t.bar_peak_at.km(), 45, 1e-6);
}

TEST(Trip, sums_are_those_of_its_segments) {
    const TripResult t = run("M", 20,
                             {leg(3, RoadSurface::earth, 12), leg(10, RoadSurface::concrete, 35, 12),
                              leg(2, RoadSurface::field, 8), leg(5, RoadSurface::gravel, 25)});
    ASSERT_EQ(t.segments.size(), 4u);
    const auto sum = [&](auto part) {
        return std::accumulate(t.segments.begin(), t.segments.end(), 0.0,
                               [&](double a, const SegmentRecord& s) { return a + part(s); });
    };
    EXPECT_NEAR(t.length.km(), 20, 1e-9);
    EXPECT_NEAR(t.segments[2].end.km(), 15, 1e-9);
    EXPECT_NEAR(t.driving.hours(), 3.0 / 12 + 10.0 / 35 + 2.0 / 8 + 5.0 / 25, 1e-9);
    EXPECT_NEAR(t.stopped.minutes(), 12, 1e-9);
    EXPECT_NEAR(t.wear_mm, sum([](const SegmentRecord& s) { return s.wear_mm; }), 1e-12);
    EXPECT_NEAR(t.fuel.litres(), sum([](const SegmentRecord& s) { return s.fuel.litres(); }), 1e-9);
    EXPECT_NEAR(t.aging_min, sum([](const SegmentRecord& s) { return s.aging_min; }), 1e-12);
    EXPECT_NEAR(t.segments[2].wear_mm, 0.25 * 0.0133, 1e-12);
    EXPECT_GT(t.fuel_upper, t.fuel);
}

TEST(Trip, wear_follows_the_tip) {
    const TripResult t = run("M", 25, {leg(45, RoadSurface::asphalt, 40)});
    // The tip warms from 25 C to about 45; the factor lies between those of the two.
    const auto mm = [](double tip) {
        return ground_wear_mm(RoadSurface::asphalt, Length::from_km(45), Speed::from_kmh(40), 1.0,
                              Temperature::from_celsius(tip));
    };
    EXPECT_GT(t.wear_mm, mm(38));
    EXPECT_LT(t.wear_mm, mm(t.bar_tip_end.celsius()));
}

TEST(Trip, splitting_a_segment_changes_next_to_nothing) {
    const TripResult one = run("M", 25, {leg(30, RoadSurface::asphalt, 36)});
    const TripResult two =
        run("M", 25, {leg(12, RoadSurface::asphalt, 36), leg(18, RoadSurface::asphalt, 36)});
    EXPECT_NEAR(one.bar_end.celsius(), two.bar_end.celsius(), 1e-9);
    EXPECT_NEAR(one.guide_lug_end.celsius(), two.guide_lug_end.celsius(), 1e-9);
    EXPECT_NEAR(one.wear_mm, two.wear_mm, 1e-12);
    EXPECT_NEAR(one.fuel.litres(), two.fuel.litres(), 1e-9);
}

TEST(Trip, power_and_top_speed_cap_the_speed) {
    std::vector<TripSegment> segments{leg(2, RoadSurface::concrete, 40), leg(2, RoadSurface::concrete, 60),
                                      leg(2, RoadSurface::concrete, 20)};
    segments[0].grade_pct = 3;
    const TripResult t = run("M", 20, segments);
    EXPECT_EQ(t.segments[0].cap, SpeedCap::power);
    EXPECT_NEAR(t.segments[0].driven.kmh(), 37.484, 1e-3);  // section F of the checks
    EXPECT_NEAR(t.segments[0].fuel.litres() / 2, 1.8824, 1e-4);
    EXPECT_EQ(t.segments[1].cap, SpeedCap::top_speed);
    EXPECT_NEAR(t.segments[1].driven.kmh(), 40, 1e-9);
    EXPECT_EQ(t.segments[2].cap, SpeedCap::none);
    ASSERT_FALSE(t.notes.empty());
    EXPECT_NE(t.notes.back().find("2 of 3"), std::string::npos);
}

TEST(Trip, a_machine_too_weak_for_a_grade_is_an_error) {
    Machine m = check_machine("M");
    m.engine = Power::from_kw(8);
    EXPECT_THROW((void)run_trip(m, m.states.front(), air(20), {leg(1, RoadSurface::asphalt, 20)}), Error);
    EXPECT_THROW((void)run("M", 20, {}), Error);
    EXPECT_THROW((void)run("M", 20, {leg(1, RoadSurface::asphalt, 20, 60.0 * 24 * 31)}), Error);
}

TEST(Trip, starts_at_the_air_of_its_first_segment) {
    std::vector<TripSegment> segments{leg(0, RoadSurface::asphalt, 20), leg(0, RoadSurface::asphalt, 20)};
    segments[0].air = Temperature::from_celsius(7);
    const TripResult t = run("S", 25, segments);
    EXPECT_DOUBLE_EQ(t.bar_end.celsius(), 7);
    EXPECT_DOUBLE_EQ(t.guide_lug_end.celsius(), 7);
    EXPECT_EQ(t.wear_mm, 0.0);
}

TEST(Trip, the_band_lies_around_the_estimate_and_closes_with_calibration) {
    TripOptions options;
    const std::vector<TripSegment> segments{leg(45, RoadSurface::asphalt, 40)};
    const TripResult wide = run("M", 25, segments, options);
    // Section H5 of the checks: 82.8, 106.5 and 138.3.
    EXPECT_NEAR(wide.bar_peak_low.celsius(), 82.8, 0.06);
    EXPECT_NEAR(wide.bar_peak.celsius(), 106.5, 0.06);
    EXPECT_NEAR(wide.bar_peak_high.celsius(), 138.3, 0.06);
    EXPECT_FALSE(wide.calibrated);
    options.heat_sd = 0.1;
    options.calibrated = true;
    const TripResult narrow = run("M", 25, segments, options);
    EXPECT_LT(narrow.bar_peak_high, wide.bar_peak_high);
    EXPECT_TRUE(narrow.calibrated);
}

TEST(Trip, belts_that_are_young_washed_or_worn) {
    const std::vector<TripSegment> segments{leg(40, RoadSurface::asphalt, 40)};
    TripOptions options;
    options.belts.hours = 10;
    const TripResult young = run("M", 25, segments, options);
    EXPECT_DOUBLE_EQ(young.limits.limit.celsius(), 95);
    EXPECT_TRUE(young.to_limit.has_value());
    options = {};
    options.belts.condition = BeltsNow::Condition::not_run_in;
    EXPECT_DOUBLE_EQ(run("M", 25, segments, options).limits.caution.celsius(), 75);
    options = {};
    options.belts.condition = BeltsNow::Condition::washed;
    EXPECT_GT(run("M", 25, segments, options).guide_lug_end, run("M", 25, segments).guide_lug_end);
    options = {};
    options.belts.bar_height = Length::from_mm(13);
    const TripResult worn = run("M", 25, segments, options);
    EXPECT_LT(worn.bar_end, run("M", 25, segments).bar_end);
    EXPECT_NE(worn.notes.back().find("quarter"), std::string::npos);
}

TEST(Trip, notes_what_is_beyond_a_limit) {
    const TripResult t = run("L", 35, {leg(90, RoadSurface::asphalt, 40)});
    std::string all;
    for (const std::string& n : t.notes)
        all += n + "\n";
    EXPECT_NE(all.find("passes the limit"), std::string::npos);
    EXPECT_NE(all.find("two hours at 110"), std::string::npos);
    EXPECT_NE(all.find("softens"), std::string::npos);
    EXPECT_TRUE(run("L", 10, {leg(5, RoadSurface::earth, 15)}).notes.empty());
}

// A stop of 5e-324 minutes left every temperature after it no number.
TEST(Trip, a_stop_of_no_time_changes_nothing) {
    for (const double minutes : {5e-324, 1e-300, 1e-12}) {
        const TripResult t =
            run("M", 25, {leg(10, RoadSurface::asphalt, 30, minutes), leg(5, RoadSurface::asphalt, 30)});
        const TripResult through =
            run("M", 25, {leg(10, RoadSurface::asphalt, 30), leg(5, RoadSurface::asphalt, 30)});
        EXPECT_NEAR(t.bar_end.celsius(), through.bar_end.celsius(), 0.01) << minutes;
        EXPECT_NEAR(t.bar_peak.celsius(), through.bar_peak.celsius(), 0.01) << minutes;
    }
}

}  // namespace
}  // namespace loamway
