// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/geo.h"

#include <gtest/gtest.h>

#include <GeographicLib/Geodesic.hpp>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "loamway/base/error.h"

namespace loamway {
namespace {

GeoPoint at(double lat, double lon) {
    return GeoPoint::from_degrees(lat, lon);
}

double geodesic_m(GeoPoint a, GeoPoint b) {
    double metres = 0.0;
    GeographicLib::Geodesic::WGS84().Inverse(a.lat(), a.lon(), b.lat(), b.lon(), metres);
    return metres;
}

/// A random point and another `metres` away from it in a random direction.
std::pair<GeoPoint, GeoPoint> random_segment(std::mt19937_64& random, double most_lat, double metres) {
    std::uniform_real_distribution<double> lat(-most_lat, most_lat);
    std::uniform_real_distribution<double> round(-180.0, 180.0);
    const double lat1 = lat(random);
    const double lon1 = round(random);
    double lat2 = 0.0;
    double lon2 = 0.0;
    GeographicLib::Geodesic::WGS84().Direct(lat1, lon1, round(random), metres, lat2, lon2);
    return {at(lat1, lon1), at(lat2, lon2)};
}

double worst_relative_error(double most_lat, double least_m, double most_m, int count) {
    std::mt19937_64 random(20260714);
    std::uniform_real_distribution<double> log_length(std::log(least_m), std::log(most_m));
    double worst = 0.0;
    for (int i = 0; i < count; ++i) {
        const auto [a, b] = random_segment(random, most_lat, std::exp(log_length(random)));
        const double exact = geodesic_m(a, b);
        if (exact > 0.0)
            worst = std::max(worst, std::abs(distance(a, b).metres() / exact - 1.0));
    }
    return worst;
}

// The header promises 1e-6. Measured with a million segments: 2.8e-9 below 89 degrees of latitude,
// 1.9e-8 with the poles.
TEST(geo_distance, short_segments_agree_with_the_geodesic) {
    EXPECT_LT(worst_relative_error(89.0, 1.0, 9999.0, 200000), 4e-9);
}

TEST(geo_distance, short_segments_up_to_the_poles_keep_the_promise) {
    EXPECT_LT(worst_relative_error(90.0, 1.0, 9999.0, 200000), 5e-8);
}

TEST(geo_distance, long_segments_are_the_geodesic) {
    EXPECT_LT(worst_relative_error(90.0, 10001.0, 2e7, 20000), 1e-12);
}

TEST(geo_distance, is_the_same_both_ways) {
    std::mt19937_64 random(7);
    for (int i = 0; i < 20000; ++i) {
        const auto [a, b] = random_segment(random, 89.99, i % 2 == 0 ? 300.0 : 300000.0);
        EXPECT_EQ(distance(a, b), distance(b, a));
    }
}

TEST(geo_distance, crosses_the_date_line_the_short_way) {
    const GeoPoint west = at(-17.0, 179.999);
    const GeoPoint east = at(-17.0, -179.999);
    EXPECT_NEAR(distance(west, east).metres(), geodesic_m(west, east), 1e-4);
    EXPECT_LT(distance(west, east).metres(), 220.0);
    EXPECT_EQ(distance(at(10, 180), at(10, -180)).metres(), 0.0);
}

TEST(geo_distance, at_the_pole_every_longitude_is_one_place) {
    EXPECT_NEAR(distance(at(90, 0), at(90, 120)).metres(), 0.0, 1e-6);
    EXPECT_NEAR(distance(at(89.9999, 0), at(89.9999, 180)).metres(),
                geodesic_m(at(89.9999, 0), at(89.9999, 180)), 1e-6);
}

TEST(geo_distance, lower_bound_lies_little_below_everywhere) {
    for (const double lat : {-89.0, -60.0, -0.5, 0.0, 35.0, 51.0, 80.0})
        for (const double north : {0.0, 0.001, 0.7, 9.0})
            for (const double east : {0.0, 0.002, 1.3, 50.0, 179.5}) {
                const GeoPoint a = at(lat, 170), b = at(lat + north, east > 10 ? 170 - east : 170 + east);
                const double exact = geodesic_m(a, b);
                EXPECT_LE(distance_lower_bound(a, b).metres(), exact + 1e-6)
                    << lat << ' ' << north << ' ' << east;
                EXPECT_GE(distance_lower_bound(a, b).metres(), 0.989 * exact - 1e-6)
                    << lat << ' ' << north << ' ' << east;
            }
    const GeoPoint west = at(-17.0, 179.9), east = at(-17.0, -179.9);
    EXPECT_NEAR(distance_lower_bound(west, east).metres(), geodesic_m(west, east), 250.0);
}

TEST(geo_distance, a_line_is_the_sum_of_its_segments) {
    const std::vector<GeoPoint> line{at(50, 8), at(50, 8.01), at(50.01, 8.01)};
    EXPECT_EQ(polyline_length(line).metres(),
              distance(line[0], line[1]).metres() + distance(line[1], line[2]).metres());
    EXPECT_EQ(polyline_length({}).metres(), 0.0);
    EXPECT_EQ(polyline_length(std::vector{at(1, 1)}).metres(), 0.0);
}

TEST(geo_point, rounds_to_the_nearest_step_and_refuses_what_is_not_on_the_globe) {
    EXPECT_EQ(at(50.12345678, -8.12345674), (GeoPoint{501234568, -81234567}));
    EXPECT_EQ(at(90, -180), (GeoPoint{900000000, -1800000000}));
    EXPECT_THROW(at(90.1, 0), Error);
    EXPECT_THROW(at(0, 180.1), Error);
    EXPECT_THROW(at(std::nan(""), 0), Error);
}

TEST(parse_lat_lon, reads_degrees) {
    EXPECT_EQ(parse_lat_lon("51.5,7.25"), at(51.5, 7.25));
    EXPECT_EQ(parse_lat_lon("  -51.5 ,\t+7.25 "), at(-51.5, 7.25));
    EXPECT_EQ(parse_lat_lon("90,-180"), at(90, -180));
    EXPECT_EQ(parse_lat_lon("5,.5"), at(5, 0.5));
}

TEST(parse_lat_lon, other_forms_are_names) {
    for (const char* text : {"",      ",",     "51.5",  "51.5;7.2", "51.5,7.2,3", "51.5,",   ",7",
                             "nan,1", "inf,0", "1e1,2", "0x10,2",   "51.5N,7.2E", "51 30,7", "Oberfeld, Hof",
                             "--1,2", "1-,2",  "+-1,2", "1.2.3,4",  "-,-",        ".,."})
        EXPECT_EQ(parse_lat_lon(text), std::nullopt) << text;
}

std::string complaint(std::string_view text) {
    try {
        static_cast<void>(parse_lat_lon(text));
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        return e.what();
    }
    return "none";
}

TEST(parse_lat_lon, out_of_range_is_an_error_with_a_hint) {
    EXPECT_EQ(complaint("213.1,51"),
              "latitude 213.1 is outside -90..90 (write LAT,LON in degrees; are the two swapped?)");
    EXPECT_EQ(complaint("-93.6,41.6"),
              "latitude -93.6 is outside -90..90 (write LAT,LON in degrees; are the two swapped?)");
    EXPECT_EQ(complaint("100,100"), "latitude 100 is outside -90..90 (write LAT,LON in degrees)");
    EXPECT_EQ(complaint("51,181"), "longitude 181 is outside -180..180 (write LAT,LON in degrees)");
}

TEST(bearing, points_of_the_compass) {
    const GeoPoint a = at(50, 8);
    EXPECT_NEAR(bearing_deg(a, at(50.001, 8)), 0.0, 1e-9);
    EXPECT_NEAR(bearing_deg(a, at(50, 8.001)), 90.0, 1e-3);
    EXPECT_NEAR(bearing_deg(a, at(49.999, 8)), 180.0, 1e-9);
    EXPECT_NEAR(bearing_deg(a, at(50, 7.999)), 270.0, 1e-3);
    EXPECT_NEAR(bearing_deg(at(0, 179.9995), at(0, -179.9995)), 90.0, 1e-9);
    EXPECT_EQ(bearing_deg(a, a), 0.0);
}

TEST(bearing, agrees_with_the_geodesic) {
    std::mt19937_64 random(11);
    for (int i = 0; i < 20000; ++i) {
        const auto [a, b] = random_segment(random, 80.0, i % 2 == 0 ? 8000.0 : 50000.0);
        double azimuth = 0.0;
        double at_end = 0.0;
        GeographicLib::Geodesic::WGS84().Inverse(a.lat(), a.lon(), b.lat(), b.lon(), azimuth, at_end);
        const double bearing = bearing_deg(a, b);
        EXPECT_GE(bearing, 0.0);
        EXPECT_LT(bearing, 360.0);
        EXPECT_NEAR(turn_deg(azimuth, bearing), 0.0, 0.001);
    }
}

TEST(turn, positive_to_the_right_and_half_open) {
    EXPECT_DOUBLE_EQ(turn_deg(350, 10), 20.0);
    EXPECT_DOUBLE_EQ(turn_deg(10, 350), -20.0);
    EXPECT_DOUBLE_EQ(turn_deg(0, 180), 180.0);
    EXPECT_DOUBLE_EQ(turn_deg(180, 0), 180.0);
    EXPECT_DOUBLE_EQ(turn_deg(90, 90), 0.0);
    EXPECT_DOUBLE_EQ(turn_deg(0, 270), -90.0);
}

TEST(interpolate, ends_middle_and_date_line) {
    const GeoPoint a = at(50, 8);
    const GeoPoint b = at(50.01, 8.02);
    EXPECT_EQ(interpolate(a, b, 0.0), a);
    EXPECT_EQ(interpolate(a, b, 1.0), b);
    EXPECT_EQ(interpolate(a, b, 0.5), at(50.005, 8.01));
    EXPECT_EQ(interpolate(at(0, 179.999), at(0, -179.999), 0.75), at(0, -179.9995));
}

TEST(interpolate, long_lines_follow_the_geodesic) {
    const GeoPoint a = at(50, -5);
    const GeoPoint b = at(52, 15);
    const GeoPoint m = interpolate(a, b, 0.25);
    EXPECT_NEAR(distance(a, m).metres(), 0.25 * geodesic_m(a, b), 0.02);
    EXPECT_NEAR(distance(m, b).metres(), 0.75 * geodesic_m(a, b), 0.02);
}

TEST(project, foot_inside_and_beyond_the_ends) {
    const GeoPoint a = at(50, 8);
    const GeoPoint b = at(50, 8.01);
    const Projection inside = project(at(50.001, 8.0025), a, b);
    EXPECT_NEAR(inside.fraction, 0.25, 1e-6);
    EXPECT_NEAR(inside.distance.metres(), geodesic_m(at(50.001, 8.0025), at(50, 8.0025)), 0.01);
    EXPECT_EQ(inside.point, at(50, 8.0025));
    EXPECT_EQ(project(at(50, 7.99), a, b).fraction, 0.0);
    EXPECT_EQ(project(at(50, 8.02), a, b).fraction, 1.0);
    EXPECT_EQ(project(at(50.1, 8), a, a).point, a);
}

/// The least distance over many points of the segment: slow and plain.
double scanned_distance(GeoPoint p, GeoPoint a, GeoPoint b) {
    double least = geodesic_m(p, a);
    for (int i = 1; i <= 2000; ++i)
        least = std::min(least, geodesic_m(p, interpolate(a, b, i / 2000.0)));
    return least;
}

TEST(project, agrees_with_a_plain_scan) {
    std::mt19937_64 random(13);
    for (int i = 0; i < 60; ++i) {
        const double length = i % 3 == 0 ? 40000.0 : 800.0;
        const auto [a, b] = random_segment(random, 70.0, length);
        const GeoPoint p = at(interpolate(a, b, 0.3).lat() + 0.002, interpolate(a, b, 0.3).lon());
        const double scanned = scanned_distance(p, a, b);
        const Projection found = project(p, a, b);
        EXPECT_LE(found.distance.metres(), scanned + 0.02);
        EXPECT_GE(found.distance.metres(), scanned - length / 2000.0);
        EXPECT_NEAR(distance(p, found.point).metres(), found.distance.metres(), 0.02);
        EXPECT_NEAR(distance(found.point, interpolate(a, b, found.fraction)).metres(), 0.0, 0.5);
    }
}

TEST(project, on_a_line_picks_the_nearest_segment) {
    const std::vector<GeoPoint> line{at(50, 8), at(50, 8.01), at(50.01, 8.01), at(50.01, 8.0)};
    const Projection found = project(at(50.005, 8.0101), line);
    EXPECT_EQ(found.segment, 1u);
    EXPECT_NEAR(found.fraction, 0.5, 1e-3);
    const Projection single = project(at(50.1, 8), std::vector{at(50, 8)});
    EXPECT_EQ(single.point, at(50, 8));
    EXPECT_NEAR(single.distance.metres(), geodesic_m(at(50.1, 8), at(50, 8)), 1e-6);
    EXPECT_THROW(static_cast<void>(project(at(50, 8), std::vector<GeoPoint>{})), Error);
}

TEST(project, holds_at_the_poles_and_the_date_line) {
    const Projection date_line = project(at(0.001, 180), at(0, 179.99), at(0, -179.99));
    EXPECT_NEAR(date_line.fraction, 0.5, 1e-6);
    EXPECT_NEAR(date_line.distance.metres(), 110.6, 0.1);
    for (const double lat : {90.0, -90.0, 89.99999}) {
        for (const double lon : {-180.0, 0.0, 37.0, 180.0}) {
            const Projection found = project(at(lat, lon), at(89.99 * (lat > 0 ? 1 : -1), -120), at(lat, 60));
            EXPECT_TRUE(std::isfinite(found.distance.metres()));
            EXPECT_GE(found.fraction, 0.0);
            EXPECT_LE(found.fraction, 1.0);
            EXPECT_LT(found.distance.metres(), 1200.0);
        }
    }
}

}  // namespace
}  // namespace loamway
