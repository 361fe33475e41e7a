// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/weather.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "loamway/base/error.h"
#include "loamway/base/sun.h"

namespace loamway {
namespace {

const GeoPoint here = GeoPoint::from_degrees(51, 7);
const AirRange summer{Temperature::from_celsius(10), Temperature::from_celsius(30)};

Instant utc(const std::string& text) {
    return parse_time(text, TimeZone());
}
double air(const std::string& text, GeoPoint where = here) {
    return air_through_the_day(summer, where, utc(text)).celsius();
}

TEST(Weather, air_runs_from_least_at_sunrise_to_greatest_in_the_afternoon) {
    // On 3 June (day 154) the sun rises at 201.88 and sets at 1177.6 minutes UTC (check values of base), noon
    // is at 689.7: by the form the least value falls at 191.7 minutes, the greatest 12 + 1.69 h after
    // midnight.
    EXPECT_NEAR(air("2026-06-03T03:11:42Z"), 10.0, 0.02);
    EXPECT_NEAR(air("2026-06-03T13:11:06Z"), 30.0, 0.02);
    // At sunset: sin(pi 16.43 / 19.98) = 0.5300.
    EXPECT_NEAR(air("2026-06-03T19:37:36Z"), 10 + 20 * 0.5300, 0.05);
    // Half the night on: (exp(-1.1) - exp(-2.2)) / (1 - exp(-2.2)) = 0.24974 of that.
    EXPECT_NEAR(air("2026-06-03T23:25:00Z"), 10 + 20 * 0.5300 * 0.24974, 0.1);
}

TEST(Weather, air_has_no_steps_and_stays_between_its_ends) {
    for (const double lat : {-65.0, -34.0, 0.0, 47.0, 64.0, 70.0}) {
        for (const double lon : {-179.0, -93.6, 7.0, 150.0}) {
            const GeoPoint where = GeoPoint::from_degrees(lat, lon);
            double before = air("2026-06-21T00:00:00Z", where);
            for (std::int64_t s = utc("2026-06-21T00:00:00Z").unix_seconds, i = 0; i < 3 * 144;
                 ++i, s += 600) {
                const double now = air_through_the_day(summer, where, {s}).celsius();
                EXPECT_GE(now, 10 - 1e-9);
                EXPECT_LE(now, 30 + 1e-9);
                EXPECT_LT(std::abs(now - before), 2.6) << lat << ' ' << lon;  // over ten minutes
                before = now;
            }
        }
    }
}

TEST(Weather, sun_follows_its_height_and_the_clouds) {
    const Instant noon = utc("2026-06-21T11:34:00Z");
    // 1.098 sin(62.44) exp(-0.057 / sin(62.44)) = 0.9128; overcast leaves a quarter.
    EXPECT_NEAR(sun_share(here, noon, 0), 0.9128, 0.002);
    EXPECT_NEAR(sun_share(here, noon, 1), 0.9128 / 4, 0.001);
    EXPECT_EQ(sun_share(here, utc("2026-06-21T23:30:00Z"), 0), 0.0);
    EXPECT_GT(sun_share(here, noon, 0.2), sun_share(here, noon, 0.8));
    EXPECT_LT(sun_share(here, utc("2026-12-21T11:30:00Z"), 0), 0.3);
}

TEST(Weather, what_is_given_wins_over_what_is_worked_out) {
    Conditions c;
    const Instant noon = utc("2026-06-21T11:34:00Z");
    EXPECT_NEAR(Weather(c, here).at(noon).sun, 0.9128 * (1 - 0.75 * std::pow(0.5, 3.4)), 0.002);
    EXPECT_EQ(Weather(c, here).at(noon).air.celsius(), 20);
    c.sun = 0.3;
    c.sun_assumed = false;
    const Weather still(c, here);
    EXPECT_EQ(still.at(noon).sun, 0.3);
    // Nothing changes, so there is one slot only.
    EXPECT_EQ(still.slot(noon), still.slot({0}));
    c.air_range = summer;
    const Weather day(c, here);
    EXPECT_NE(day.slot(noon), day.slot(noon + Duration::from_minutes(31)));
    EXPECT_NEAR(day.in_slot(day.slot(noon)).air.celsius(), day.at(noon).air.celsius(), 1.0);
    EXPECT_NEAR(day.warmest(utc("2026-06-21T06:00:00Z"), utc("2026-06-21T20:00:00Z")).celsius(), 30, 0.05);
    EXPECT_EQ(day.warmest(noon, noon), day.at(noon).air);
}

constexpr const char* table =
    "time,air_c,cloud\n"
    "2026-07-14T05:00,12,0.1\n"
    "2026-07-14T06:00+02:00,14,\n"
    "2026-07-14T08:00,20,1\n";

TEST(AirCsv, values_stand_on_straight_lines_between_the_lines) {
    Conditions c;
    c.air_table = parse_air_csv(table, "a.csv", TimeZone("Europe/Berlin"));
    ASSERT_EQ(c.air_table.size(), 3u);
    const Weather w(c, here);
    EXPECT_EQ(w.at(utc("2026-07-14T03:30:00Z")).air.celsius(), 13);
    EXPECT_EQ(w.at(utc("2026-07-14T05:00:00Z")).air.celsius(), 17);
    // Beyond its ends the nearest line stands, and it says so.
    EXPECT_EQ(w.at(utc("2026-07-14T10:00:00Z")).air.celsius(), 20);
    EXPECT_EQ(w.at(utc("2026-07-14T00:00:00Z")).air.celsius(), 12);
    EXPECT_FALSE(w.covers(utc("2026-07-14T06:00:01Z")));
    EXPECT_TRUE(w.covers(utc("2026-07-14T06:00:00Z")));
    EXPECT_TRUE(w.covers(utc("2026-07-14T03:00:00Z")));
    // Clouds hold until the next line; where there are none, what is assumed does.
    const Instant at = utc("2026-07-14T03:59:00Z");
    EXPECT_EQ(w.at(at).sun, sun_share(here, at, 0.1));
    EXPECT_EQ(w.at(utc("2026-07-14T05:59:00Z")).sun, sun_share(here, utc("2026-07-14T05:59:00Z"), c.cloud));
}

std::string fault(const std::string& text) {
    try {
        (void)parse_air_csv(text, "a.csv", TimeZone());
    } catch (const Error& e) {
        EXPECT_TRUE(e.kind() == ErrorKind::input || e.kind() == ErrorKind::limit);
        return e.what();
    }
    return "no fault";
}

TEST(AirCsv, says_what_is_wrong_and_where) {
    const std::string head = "time,air_c\n2026-07-14T05:00,12\n";
    EXPECT_EQ(fault(head),
              "a.csv: a table of the air needs two lines at least (a first line time,air_c and then a "
              "line for each hour)");
    EXPECT_EQ(
        fault(head + "2026-07-14T04:00,12\n"),
        "a.csv:3: the time 2026-07-14T04:00 is not after that of the line before (put the lines in order of time)");
    EXPECT_EQ(fault(head + "2026-07-14T12:00,12\n"),
              "a.csv:3: 7.0 hours have no line before 2026-07-14T12:00 (one line at least every 6 hours)");
    EXPECT_NE(fault(head + "2026-13-14T06:00,12\n").find("a.csv:3: time: "), std::string::npos);
    EXPECT_EQ(fault(head + "2026-07-14T06:00,99\n"), "a.csv:3: air_c 99 is out of range (-50 to 60)");
    EXPECT_EQ(fault("time,airc\n"), "a.csv:1: there is no column \"airc\" (did you mean air_c?)");
    EXPECT_EQ(fault("air_c,cloud\n"),
              "a.csv:1: the column time is missing (the first line names the columns: time,air_c,cloud)");
    EXPECT_EQ(fault("time,air_c,cloud\n2026-07-14T05:00,1,2\n"), "a.csv:2: cloud 2 is out of range (0 to 1)");
}

}  // namespace
}  // namespace loamway
