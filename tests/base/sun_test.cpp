// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/sun.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <variant>

#include "loamway/base/file.h"
#include "loamway/text/value.h"
#include "support/test_files.h"

namespace loamway {
namespace {

/// "lat51,lon7,doy154,zen90.833"
struct Case {
    GeoPoint where;
    int day_of_year;
    double zenith;
};

Case case_of(const std::string& key) {
    double parts[4] = {};
    std::size_t at = 0;
    for (double& part : parts) {
        at = key.find_first_of("-0123456789", at);
        const std::size_t end = std::min(key.find(',', at), key.size());
        part = parse_json(key.substr(at, end - at), key).number();
        at = end;
    }
    return {GeoPoint::from_degrees(parts[0], parts[1]), static_cast<int>(parts[2]), parts[3]};
}

// tests/base/data/sun.json: the project's own check numbers for NOAA's low-accuracy Fourier forms ("General
// Solar Position Calculations", NOAA Global Monitoring Laboratory), computed apart from this program and
// rounded to 0.01 minute; the key names latitude, longitude, day of the year and zenith angle.
TEST(sun, agrees_with_the_check_numbers_to_a_fiftieth_of_a_minute) {
    const Value checks =
        parse_json(read_text_file(test::source_path("tests/base/data/sun.json")), "sun.json");
    ASSERT_EQ(checks.as_object()->size(), 8u);
    for (const auto& [key, expected] : *checks.as_object()) {
        const Case c = case_of(key);
        const auto result = sun_times(c.where, c.day_of_year, c.zenith);
        if (const Value* polar = expected.find("polar")) {
            ASSERT_TRUE(std::holds_alternative<Polar>(result)) << key;
            EXPECT_EQ(std::get<Polar>(result) == Polar::day, *polar->as_string() == "day") << key;
            continue;
        }
        ASSERT_TRUE(std::holds_alternative<SunTimes>(result)) << key;
        const auto times = std::get<SunTimes>(result);
        EXPECT_NEAR(times.rise_utc_min, expected.find("rise_utc_min")->number(), 0.02) << key;
        EXPECT_NEAR(times.set_utc_min, expected.find("set_utc_min")->number(), 0.02) << key;
        EXPECT_NEAR(times.set_utc_min - times.rise_utc_min, expected.find("daylength_min")->number(), 0.02)
            << key;
    }
}

TEST(sun, poles_and_the_whole_year_give_times_or_a_polar_day_or_night) {
    for (const double lat : {-90.0, -89.9, -66.0, 0.0, 66.0, 89.9, 90.0}) {
        for (int day = 1; day <= 366; ++day) {
            const auto result = sun_times(GeoPoint::from_degrees(lat, 180.0), day);
            if (const auto* times = std::get_if<SunTimes>(&result)) {
                EXPECT_TRUE(std::isfinite(times->rise_utc_min));
                EXPECT_LT(times->rise_utc_min, times->set_utc_min);
                EXPECT_LE(times->set_utc_min - times->rise_utc_min, 1440.0);
            }
        }
    }
    EXPECT_EQ(std::get<Polar>(sun_times(GeoPoint::from_degrees(90, 0), 172)), Polar::day);
    EXPECT_EQ(std::get<Polar>(sun_times(GeoPoint::from_degrees(-90, 0), 172)), Polar::night);
}

TEST(sun, twilight_is_longer_than_the_day) {
    const GeoPoint where = GeoPoint::from_degrees(48, 11);
    const auto day = std::get<SunTimes>(sun_times(where, 100));
    const auto twilight = std::get<SunTimes>(sun_times(where, 100, 96.0));
    EXPECT_LT(twilight.rise_utc_min, day.rise_utc_min - 20.0);
    EXPECT_GT(twilight.set_utc_min, day.set_utc_min + 20.0);
}

// Rise and set are the times at which the sun's middle stands 0.833 degrees below the horizon.
TEST(sun, stands_where_rise_and_set_say) {
    const GeoPoint where = GeoPoint::from_degrees(51, 7);
    for (const int day : {15, 80, 154, 266, 329}) {
        const auto times = sun_times(where, day);
        ASSERT_TRUE(std::holds_alternative<SunTimes>(times));
        const SunTimes t = std::get<SunTimes>(times);
        const std::int64_t midnight = std::int64_t{20454 + day - 1} * 86400;  // 2026-01-01 is day 20454
        ASSERT_EQ(utc_day_of_year({midnight}), day);
        for (const double minutes : {t.rise_utc_min, t.set_utc_min})
            EXPECT_NEAR(sun_elevation_deg(where, {midnight + std::llround(minutes * 60)}), -0.833, 0.25)
                << day;
        const double noon = (t.rise_utc_min + t.set_utc_min) / 2;
        const double high = sun_elevation_deg(where, {midnight + std::llround(noon * 60)});
        EXPECT_GT(high, sun_elevation_deg(where, {midnight + std::llround(noon * 60) - 3600}));
        EXPECT_GT(high, sun_elevation_deg(where, {midnight + std::llround(noon * 60) + 3600}));
    }
    // At the solstice noon the sun stands 90 - 51 + 23.44 degrees high; the forms are good to 0.1 of it.
    EXPECT_NEAR(sun_elevation_deg(where, parse_time("2026-06-21T11:34:00Z", TimeZone())), 62.44, 0.1);
    EXPECT_NEAR(sun_elevation_deg(where, parse_time("2026-12-21T23:30:00Z", TimeZone())), -62.44, 0.1);
    EXPECT_EQ(utc_day_of_year(parse_time("2024-12-31T23:59:59Z", TimeZone())), 366);
    EXPECT_EQ(utc_day_of_year(parse_time("1969-03-01T00:00:00Z", TimeZone())), 60);
}

}  // namespace
}  // namespace loamway
