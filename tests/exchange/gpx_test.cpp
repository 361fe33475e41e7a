// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <pugixml.hpp>
#include <string>
#include <vector>

#include "gdal_reading.h"
#include "loamway/base/error.h"
#include "loamway/exchange/tracks.h"
#include "support/sample_plan.h"

using namespace loamway;

namespace {

/// Child elements in the order of the GPX 1.1 schema (gpx.xsd, Topografix 2004), for every type we write.
const std::map<std::string, std::vector<std::string>>& schema_order() {
    static const std::vector<std::string> point{"ele",  "time",          "magvar", "geoidheight", "name",
                                                "cmt",  "desc",          "src",    "link",        "sym",
                                                "type", "fix",           "sat",    "hdop",        "vdop",
                                                "pdop", "ageofdgpsdata", "dgpsid", "extensions"};
    static const std::map<std::string, std::vector<std::string>> order{
        {"gpx", {"metadata", "wpt", "rte", "trk", "extensions"}},
        {"metadata",
         {"name", "desc", "author", "copyright", "link", "time", "keywords", "bounds", "extensions"}},
        {"wpt", point},
        {"rtept", point},
        {"trkpt", point},
        {"rte", {"name", "cmt", "desc", "src", "link", "number", "type", "extensions", "rtept"}},
        {"trk", {"name", "cmt", "desc", "src", "link", "number", "type", "extensions", "trkseg"}},
        {"trkseg", {"trkpt", "extensions"}},
        {"copyright", {"year", "license"}},
        {"bounds", {}}};
    return order;
}

void expect_schema_order(const pugi::xml_node& node) {
    const auto known = schema_order().find(node.name());
    if (known == schema_order().end()) {
        for (const pugi::xml_node child : node.children())
            EXPECT_EQ(child.type(), pugi::node_pcdata) << node.name() << " must hold text only";
        return;
    }
    std::size_t at = 0;
    for (const pugi::xml_node child : node.children()) {
        const auto found = std::find(known->second.begin(), known->second.end(), child.name());
        ASSERT_NE(found, known->second.end()) << child.name() << " does not belong in " << node.name();
        const auto place = static_cast<std::size_t>(found - known->second.begin());
        EXPECT_GE(place, at) << child.name() << " comes too late in " << node.name();
        at = place;
        expect_schema_order(child);
    }
}

pugi::xml_document parsed(const std::string& gpx) {
    pugi::xml_document document;
    EXPECT_TRUE(document.load_string(gpx.c_str()));
    return document;
}

std::size_t count(const pugi::xml_node& parent, const char* name) {
    const auto children = parent.children(name);
    return static_cast<std::size_t>(std::distance(children.begin(), children.end()));
}

TEST(Gpx, FollowsTheSchemasOrder) {
    Plan plan = sample_plan();
    plan.options[0].elevation = {{0.0, 40.0}, {31000.0, 60.0}};
    const auto document = parsed(to_gpx(plan, ""));
    const pugi::xml_node gpx = document.child("gpx");
    EXPECT_STREQ(gpx.attribute("version").value(), "1.1");
    EXPECT_STREQ(gpx.attribute("creator").value(), "loamway 0.1.0");
    EXPECT_STREQ(gpx.attribute("xmlns").value(), "http://www.topografix.com/GPX/1/1");
    expect_schema_order(gpx);
    EXPECT_EQ(count(gpx, "wpt"), plan.options[0].stops.size());
    EXPECT_EQ(count(gpx, "rte"), 1u);
    EXPECT_EQ(count(gpx, "trk"), 1u);
    EXPECT_STREQ(gpx.child("metadata").child("copyright").attribute("author").value(), "drawn by hand");
    EXPECT_NE(std::string(gpx.child("metadata").child_value("desc")).find("Firm level ground"),
              std::string::npos);
}

TEST(Gpx, GdalReadsTheWholeWayBack) {
    const Plan plan = sample_plan();
    const Dataset dataset = open_with_gdal(to_gpx(plan, "least-cost"), "a.gpx", "GPX");
    const auto tracks = features_of(*dataset, "tracks");
    ASSERT_EQ(tracks.size(), 1u);
    EXPECT_EQ(tracks[0].text("name"), "Alder Farm to Mill F");
    EXPECT_NEAR(metres_of(*tracks[0].geometry().toMultiLineString()), *plan.options[0].length_m, 1.0);
    EXPECT_EQ(features_of(*dataset, "routes").size(), 1u);

    const auto stops = features_of(*dataset, "waypoints");
    ASSERT_EQ(stops.size(), 4u);
    EXPECT_EQ(stops[2].text("type"), "re-lube stop");
    EXPECT_EQ(stops[1].text("type"), "check stop");
    EXPECT_NE(stops[2].text("desc").find("Planned 15:00 to 15:12; "), std::string::npos);
    EXPECT_NE(stops[2].text("desc").find("40 m up the track"), std::string::npos);
    const auto* point = stops[2].geometry().toPoint();
    EXPECT_EQ(GeoPoint::from_degrees(point->getY(), point->getX()), plan.options[0].stops[2].point);
}

TEST(Gpx, TimesRunForwardAndStandAtStops) {
    const Plan plan = sample_plan();
    const auto document = parsed(to_gpx(plan, ""));
    std::vector<Instant> times;
    std::vector<std::string> places;
    for (const auto point : document.child("gpx").child("trk").child("trkseg").children("trkpt")) {
        const std::string time = point.child_value("time");
        ASSERT_TRUE(time.ends_with("Z")) << time;
        times.push_back(parse_time(time, TimeZone()));
        places.push_back(std::string(point.attribute("lat").value()) + "," + point.attribute("lon").value());
    }
    const Option& o = plan.options[0];
    EXPECT_EQ(times.front(), *o.depart);
    EXPECT_EQ(times.back(), *o.arrive);
    EXPECT_TRUE(std::is_sorted(times.begin(), times.end()));
    std::size_t standing = 0;
    for (std::size_t i = 1; i < times.size(); ++i)
        if (places[i] == places[i - 1]) {
            EXPECT_EQ(times[i - 1], *o.stops[standing].arrive);
            EXPECT_EQ(times[i], *o.stops[standing].leave);
            ++standing;
        }
    EXPECT_EQ(standing, o.stops.size());
    EXPECT_EQ(times.size(), o.geometry.size() + o.stops.size());
}

TEST(Gpx, AStopBetweenTwoPointsGetsItsOwnPoints) {
    Plan plan = sample_plan();
    Option& o = plan.options[0];
    o.stops[1].at_m += 33;
    const auto document = parsed(to_gpx(plan, ""));
    EXPECT_EQ(count(document.child("gpx").child("trk").child("trkseg"), "trkpt"),
              o.geometry.size() + o.stops.size() + 1);
}

TEST(Gpx, TheLowBedIsLoadedBeforeItMoves) {
    Plan plan = sample_plan();
    plan.options[1].stopped_s = 4500;
    const auto document = parsed(to_gpx(plan, "haul"));
    const auto segment = document.child("gpx").child("trk").child("trkseg");
    EXPECT_STREQ(segment.first_child().child_value("time"), "2026-07-14T13:15:00Z");
    EXPECT_STREQ(segment.last_child().child_value("time"), "2026-07-14T14:15:00Z");
}

TEST(Gpx, NamesSuitSmallReceivers) {
    Plan plan = sample_plan();
    plan.move.from_name = "Mühlenhof über der Straße";
    plan.options[0].legs[0].directions[1].road = "Łąkowa & \"Söhne\" <1>";
    const auto document = parsed(to_gpx(plan, ""));
    const pugi::xml_node gpx = document.child("gpx");
    std::vector<std::string> names{gpx.child("rte").child_value("name"),
                                   gpx.child("trk").child_value("name")};
    for (const auto point : gpx.children("wpt"))
        names.emplace_back(point.child_value("name"));
    for (const auto point : gpx.child("rte").children("rtept"))
        names.emplace_back(point.child_value("name"));
    for (const std::string& name : names) {
        EXPECT_LE(name.size(), 20u) << name;
        EXPECT_TRUE(std::all_of(name.begin(), name.end(), [](char c) { return c >= ' ' && c <= '~'; }))
            << name;
    }
    EXPECT_EQ(names[0], "Muehlenhof ueber der");
    EXPECT_EQ(names[2], "0.0 km start");
    EXPECT_TRUE(names[4].starts_with("14.") && names[4].ends_with(" km re-lube")) << names[4];
}

TEST(Gpx, TheRouteStaysShortAndKeepsItsStops) {
    Plan plan = sample_plan();
    Option& o = plan.options[0];
    for (int i = 0; i < 200; ++i)
        o.legs[0].directions.push_back({100.0 + 140.0 * i, "bend", "", i % 90 + 5.0});
    const auto document = parsed(to_gpx(plan, ""));
    const auto points = document.child("gpx").child("rte").children("rtept");
    EXPECT_EQ(std::distance(points.begin(), points.end()), 50);
    std::size_t stops = 0;
    for (const auto point : points)
        stops += std::string(point.child_value("type")).ends_with("stop") ? 1 : 0;
    EXPECT_EQ(stops, o.stops.size());
    EXPECT_NE(std::string(points.begin()->child_value("name")).find("Alder Farm"), std::string::npos);
}

TEST(Gpx, StrangersNamesCannotBreakTheFile) {
    Plan plan = sample_plan();
    plan.options[0].stops[1].place = "]]><wpt lat=\"0\" lon=\"0\"/> & \x01\xEF\xBF\xBF\xFF";
    const std::string gpx = to_gpx(plan, "");
    const Dataset dataset = open_with_gdal(gpx, "b.gpx", "GPX");
    EXPECT_EQ(features_of(*dataset, "waypoints").size(), 4u);
}

TEST(Gpx, LongitudesStayInTheSchemasRange) {
    Plan plan = sample_plan();
    Option& o = plan.options[0];
    o.geometry = {GeoPoint::from_degrees(-16.5, 179.999), GeoPoint::from_degrees(-16.5, 180.0),
                  GeoPoint::from_degrees(-16.5, -179.999)};
    o.geometry_at_m = {0, 107, 214};
    o.stops.clear();
    o.legs.clear();
    const auto document = parsed(to_gpx(plan, ""));
    const auto points = document.child("gpx").child("trk").child("trkseg").children("trkpt");
    ASSERT_EQ(std::distance(points.begin(), points.end()), 3);
    for (const auto point : points)
        EXPECT_LT(point.attribute("lon").as_double(), 180.0);
}

TEST(Gpx, AnOptionWithoutAWayIsRefused) {
    try {
        (void)to_gpx(sample_plan(), "least-hard");
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::not_found);
        EXPECT_NE(std::string(e.what()).find("no way to write"), std::string::npos);
    }
    EXPECT_THROW((void)to_gpx(sample_plan(), "no such"), Error);
}

}  // namespace
