// SPDX-License-Identifier: Apache-2.0
#include "loamway/exchange/places.h"

#include <gtest/gtest.h>

#include <string>

#include "loamway/base/error.h"
#include "support/test_files.h"

using namespace loamway;

namespace {

constexpr const char* two_places = R"({
"type": "FeatureCollection",
"name": "my places",
"crs": {"type": "name", "properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}},
"features": [
{"type": "Feature", "id": 7, "properties": {"name": "Alder Farm"}, "geometry": {"type": "Point", "coordinates": [13.2, 53.5]}},
{"type": "Feature", "properties": {"name": "Gravel pit", "kind": "stop", "note": "ask first"},
 "geometry": {"type": "Point", "coordinates": [13.25, 53.55, 41.0]}}
]})";

std::string fault_of(const std::string& json) {
    try {
        (void)parse_places(json, "places.geojson");
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        return e.what();
    }
    return "no error";
}
std::string feature(const std::string& properties, const std::string& geometry) {
    return R"({"type":"Feature","properties":)" + properties + R"(,"geometry":)" + geometry + "}";
}
const std::string point = R"({"type":"Point","coordinates":[13.2,53.5]})";

TEST(Places, ReadsACollection) {
    const auto places = parse_places(two_places, "places.geojson");
    ASSERT_EQ(places.size(), 2u);
    EXPECT_EQ(places[0].name, "Alder Farm");
    EXPECT_EQ(places[0].point, GeoPoint::from_degrees(53.5, 13.2));
    EXPECT_FALSE(places[0].stop);
    EXPECT_EQ(places[1].point, GeoPoint::from_degrees(53.55, 13.25));
    EXPECT_TRUE(places[1].stop);
}

TEST(Places, ReadsASingleFeature) {
    const auto places = parse_places(feature(R"({"name":"Yard","kind":"place"})", point), "p");
    ASSERT_EQ(places.size(), 1u);
    EXPECT_EQ(places[0].name, "Yard");
}

TEST(Places, FaultsNameFileLineAndWhatToDo) {
    // The misspelt key stands on the sixth line of the document above.
    std::string text = two_places;
    text.replace(text.find("\"name\": \"Alder"), 6, "\"nmae\"");
    EXPECT_EQ(fault_of(text).rfind("places.geojson:6:", 0), 0u) << fault_of(text);

    EXPECT_NE(fault_of(feature(R"({"name":"Yard","kind":"stopp"})", point)).find("did you mean \"stop\"?"),
              std::string::npos);
    EXPECT_NE(fault_of(feature(R"({"name":"Yard","kidn":"stop"})", point)).find("did you mean \"kind\"?"),
              std::string::npos);
    EXPECT_NE(fault_of(feature(R"({"name":"Y"})", R"({"type":"Point","coordinates":[53.5,113.2]})"))
                  .find("swapped"),
              std::string::npos);
    EXPECT_NE(
        fault_of(feature(R"({"name":"Y"})", R"({"type":"Point","coordinates":[500,113.2]})")).find("WGS84"),
        std::string::npos);
    EXPECT_NE(
        fault_of(feature(R"({"name":"Y"})", R"({"type":"Point","coordinates":"13,53"})")).find("coordinates"),
        std::string::npos);
    EXPECT_NE(
        fault_of(feature(R"({"name":"Y"})", R"({"type":"LineString","coordinates":[]})")).find("not a Point"),
        std::string::npos);
    EXPECT_NE(fault_of(feature(R"({"name":""})", point)).find("empty"), std::string::npos);
    EXPECT_NE(fault_of(feature("null", point)).find("no properties"), std::string::npos);
    EXPECT_NE(fault_of(feature(R"({"name":"Y"})", "null")).find("no position"), std::string::npos);
    EXPECT_NE(fault_of("[]").find("not GeoJSON"), std::string::npos);
    EXPECT_NE(fault_of(R"({"type":"Topology"})").find("FeatureCollection"), std::string::npos);
    EXPECT_NE(fault_of(R"({"type":"FeatureCollection"})").find("features"), std::string::npos);
}

TEST(Places, RefusesAnotherCoordinateSystem) {
    std::string text = two_places;
    text.replace(text.find("urn:ogc:def:crs:OGC:1.3:CRS84"), 29, "urn:ogc:def:crs:EPSG::25833");
    EXPECT_NE(fault_of(text).find("other than WGS84"), std::string::npos);
}

TEST(Places, OnlyPlainLocalFilesAreRead) {
    EXPECT_THROW((void)read_places("http://example.org/p.geojson"), Error);
    EXPECT_THROW((void)read_places("/vsistdin/"), Error);
    try {
        (void)read_places("/nowhere/p.geojson");
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::not_found);
    }
}

// Tables without positions were told to give names; a name too long was left out without a word.
TEST(Places, FaultsOfMapProgramsFilesAreSaid) {
    const test::TempDir dir;
    const auto fault = [&](const std::string& text) -> std::string {
        try {
            (void)read_places(dir.write("p.csv", text));
        } catch (const Error& e) {
            return e.what();
        }
        return "no error";
    };
    EXPECT_EQ(fault("name,lat,lon\nYard,47.2,-35.5\n"), "no error");
    EXPECT_NE(fault("name,town\nYard,Tillerby\n").find("lat and lon"), std::string::npos);
    const std::string long_name(201, 'a');
    EXPECT_NE(fault("name,lat,lon\nYard,47.2,-35.5\n" + long_name + ",47.3,-35.5\n").find("too long"),
              std::string::npos);
}

}  // namespace
