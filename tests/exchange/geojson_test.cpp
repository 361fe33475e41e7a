// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <string>

#include "gdal_reading.h"
#include "loamway/base/error.h"
#include "loamway/exchange/tracks.h"
#include "loamway/text/value.h"
#include "support/sample_plan.h"

using namespace loamway;

namespace {

Value written(const Plan& plan, const std::string& option = "") {
    return parse_json(to_geojson(plan, option), "out.geojson");
}
const Value::Array& features(const Value& collection) {
    return *collection.find("features")->as_array();
}

TEST(GeoJson, OneLineForEachSurfaceRunOnePointForEachStop) {
    const Plan plan = sample_plan();
    const Option& o = plan.options[0];
    const Dataset dataset = open_with_gdal(to_geojson(plan, ""), "a.geojson", "GeoJSON");
    const auto all = features_of(*dataset, nullptr);
    ASSERT_EQ(all.size(), o.legs[0].surface_runs.size() + o.stops.size());
    double metres = 0, km = 0;
    for (std::size_t i = 0; i < o.legs[0].surface_runs.size(); ++i) {
        const SurfaceRun& run = o.legs[0].surface_runs[i];
        EXPECT_EQ(all[i].text("surface_class"), name_of(run.surface));
        EXPECT_EQ(all[i].number("known"), run.known ? 1 : 0);
        EXPECT_EQ(all[i].text("mode"), "drive");
        EXPECT_NEAR(metres_of(all[i].geometry()), run.to_m - run.from_m, 0.5);
        metres += metres_of(all[i].geometry());
        km += all[i].number("length_km");
    }
    EXPECT_NEAR(metres, *o.length_m, 1.0);
    EXPECT_NEAR(km * 1000, *o.length_m, 3.0);
    const auto& stop = all[o.legs[0].surface_runs.size() + 2];
    EXPECT_EQ(stop.text("kind"), "relube");
    EXPECT_NE(stop.text("cautions").find("soft ground"), std::string::npos);
    EXPECT_EQ(wkbFlatten(stop.geometry().getGeometryType()), wkbPoint);
}

TEST(GeoJson, FollowsTheRules) {
    const Value out = written(sample_plan());
    EXPECT_EQ(out.find("crs"), nullptr);
    ASSERT_EQ(out.find("bbox")->as_array()->size(), 4u);
    const auto& box = *out.find("bbox")->as_array();
    EXPECT_LT(box[0].number(), box[2].number());
    EXPECT_LT(box[1].number(), box[3].number());
    for (const Value& f : features(out)) {
        for (const auto& [key, value] : *f.find("properties")->as_object()) {
            EXPECT_EQ(value.as_object(), nullptr) << key;
            EXPECT_EQ(value.as_array(), nullptr) << key;
        }
        const std::string text = to_json(*f.find("geometry"));
        std::size_t decimals = 0;
        bool after_point = false;
        for (const char c : text) {
            if (c == '.')
                after_point = true, decimals = 0;
            else if (c >= '0' && c <= '9' && after_point)
                EXPECT_LE(++decimals, 7u) << text.substr(0, 200);
            else
                after_point = false;
        }
    }
    EXPECT_EQ(*features(out)[0].find("properties")->find("depart")->as_string(), "2026-07-14T12:12:00Z");
    EXPECT_EQ(out.find("cautions")->as_array()->size(), 2u);
    EXPECT_EQ(*out.find("attribution")->as_string(), "drawn by hand");
}

// A piece of earth of 570 m was said to be passed at 37 km/h: time was spread evenly between the stops.
TEST(GeoJson, EachPieceHasItsOwnPace) {
    Plan plan = sample_plan();
    Option& o = plan.options[0];
    o.stops.clear();
    const double end = o.geometry_at_m.back();
    o.arrive = *o.depart + Duration::from_seconds(7320);
    o.clock = {{0, 0}, {2100, 300}, {14500, 1500}, {27000, 4000}, {27000, 4020}, {end, 7320}};
    const Value out = written(plan);
    const auto time = [&](std::size_t feature, const char* key) {
        const auto& text = *features(out)[feature].find("properties")->find(key)->as_string();
        return (parse_time(text, TimeZone()) - *o.depart).seconds();
    };
    EXPECT_EQ(time(0, "depart"), 0);
    EXPECT_EQ(time(0, "arrive"), 300);
    EXPECT_EQ(time(1, "arrive"), 1500);
    // Half way at even pace; 20 s are lost at the turn.
    EXPECT_NEAR(time(2, "arrive"), 1500 + 2500 * (18700 - 14500) / 12500.0, 1);
    EXPECT_EQ(time(3, "arrive"), 4000);
    EXPECT_EQ(time(4, "depart"), 4020);
    EXPECT_EQ(time(4, "arrive"), 7320);
}

TEST(GeoJson, ALegWithoutSurfacesIsOneLine) {
    const Plan plan = sample_plan();
    const Value out = written(plan, "haul");
    ASSERT_EQ(features(out).size(), 1u);
    EXPECT_TRUE(features(out)[0].find("properties")->find("surface_class")->is_null());
    EXPECT_EQ(*features(out)[0].find("properties")->find("mode")->as_string(), "haul");
}

TEST(GeoJson, WhatLiesBetweenRunsIsNotLost) {
    Plan plan = sample_plan();
    Option& o = plan.options[0];
    o.legs[0].surface_runs.erase(o.legs[0].surface_runs.begin() + 2);
    const Dataset dataset = open_with_gdal(to_geojson(plan, ""), "b.geojson", "GeoJSON");
    double metres = 0;
    std::size_t without_surface = 0;
    for (const SeenFeature& f : features_of(*dataset, nullptr))
        if (wkbFlatten(f.geometry().getGeometryType()) == wkbLineString) {
            metres += metres_of(f.geometry());
            without_surface += f.is_null("surface_class") ? 1 : 0;
        }
    EXPECT_NEAR(metres, *o.length_m, 1.0);
    EXPECT_EQ(without_surface, 1u);
}

TEST(GeoJson, LinesAreCutAtTheDateLine) {
    Plan plan = sample_plan();
    Option& o = plan.options[0];
    o.geometry = {GeoPoint::from_degrees(-16.50, 179.99), GeoPoint::from_degrees(-16.52, -179.98)};
    o.geometry_at_m = {0, distance(o.geometry[0], o.geometry[1]).metres()};
    o.length_m = o.geometry_at_m[1];
    o.stops.clear();
    o.legs[0].length_m = *o.length_m;
    o.legs[0].surface_runs = {{0, *o.length_m, SurfaceClass::gravel, true}};
    const std::string text = to_geojson(plan, "");
    const Value out = parse_json(text, "out");
    EXPECT_EQ(to_json(*out.find("bbox")), "[179.99,-16.52,-179.98,-16.5]");
    const Value& geometry = *features(out)[0].find("geometry");
    EXPECT_EQ(*geometry.find("type")->as_string(), "MultiLineString");
    EXPECT_EQ(to_json(*geometry.find("coordinates")),
              "[[[179.99,-16.5],[180,-16.5066667]],[[-180,-16.5066667],[-179.98,-16.52]]]");
    const Dataset dataset = open_with_gdal(text, "c.geojson", "GeoJSON");
    EXPECT_NEAR(metres_of(features_of(*dataset, nullptr)[0].geometry()), *o.length_m, 1.0);
}

TEST(GeoJson, BackAcrossTheDateLineTheBoxHoldsBothSides) {
    Plan plan = sample_plan();
    Option& o = plan.options[0];
    o.geometry = {GeoPoint::from_degrees(-16.5, -179.99), GeoPoint::from_degrees(-16.5, 179.98),
                  GeoPoint::from_degrees(-16.6, -179.97)};
    o.geometry_at_m = {0, 3200, 10000};
    o.stops.clear();
    o.legs[0].surface_runs = {{0, 10000, SurfaceClass::gravel, true}};
    EXPECT_EQ(to_json(*written(plan).find("bbox")), "[179.98,-16.6,-179.97,-16.5]");
}

TEST(GeoJson, AnOptionWithoutAWayIsRefused) {
    EXPECT_THROW((void)to_geojson(sample_plan(), "least-hard"), Error);
}

}  // namespace
