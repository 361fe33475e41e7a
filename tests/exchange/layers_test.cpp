// SPDX-License-Identifier: Apache-2.0
// GeoPackage, KML and CSV, read back by GDAL.
#include <gtest/gtest.h>

#include <string>

#include "gdal_reading.h"
#include "loamway/base/error.h"
#include "loamway/exchange/tracks.h"
#include "support/sample_plan.h"

using namespace loamway;

namespace {

/// A field the way GDAL gives it, whichever of its KML readers is installed.
std::string layer_names(GDALDataset& dataset) {
    std::string out;
    for (int i = 0; i < dataset.GetLayerCount(); ++i)
        out += std::string(dataset.GetLayer(i)->GetName()) + " ";
    return out;
}

TEST(GeoPackage, HoldsTheFourLayersWithTypedFields) {
    const Plan plan = sample_plan();
    const Option& o = plan.options[0];
    const Dataset dataset = open_with_gdal(to_geopackage(plan, ""), "a.gpkg", "GPKG");
    EXPECT_EQ(layer_names(*dataset), "legs stops segments flags ");
    const auto legs = features_of(*dataset, "legs");
    ASSERT_EQ(legs.size(), 1u);
    EXPECT_EQ(legs[0].text("mode"), "drive");
    EXPECT_EQ(legs[0].number("can_be_done"), 1);
    EXPECT_NEAR(legs[0].number("length_km"), *o.length_m / 1000, 0.001);
    EXPECT_NEAR(metres_of(legs[0].geometry()), *o.length_m, 1.0);
    EXPECT_EQ(legs[0].text("attribution"), "drawn by hand");
    const auto stops = features_of(*dataset, "stops");
    ASSERT_EQ(stops.size(), o.stops.size());
    EXPECT_EQ(stops[2].text("kind"), "relube");
    EXPECT_EQ(stops[2].number("number"), 3);
    EXPECT_NEAR(stops[2].number("since_stop_km"), (o.stops[2].at_m - o.stops[1].at_m) / 1000, 0.001);
    EXPECT_EQ(stops[2].text("arrive"), "2026/07/14 13:00:00+00");
    EXPECT_NEAR(stops[2].geometry().toPoint()->getY(), o.stops[2].point.lat(), 1e-7);
    EXPECT_EQ(features_of(*dataset, "segments").size(), o.legs[0].surface_runs.size());
    const auto flags = features_of(*dataset, "flags");
    ASSERT_EQ(flags.size(), o.flags.size());
    EXPECT_EQ(flags[0].text("osm_way"), "4711");
    EXPECT_EQ(flags[0].text("text"), "bridge posted 16 t; you weigh 18.4 t");
    EXPECT_TRUE(flags[3].is_null("at_km"));
    EXPECT_EQ(flags[3].feature->GetGeometryRef(), nullptr);
}

TEST(GeoPackage, SaysWgs84LongitudeFirstAndIsTheSameEachTime) {
    const std::string bytes = to_geopackage(sample_plan(), "");
    EXPECT_TRUE(bytes == to_geopackage(sample_plan(), ""));
    const Dataset dataset = open_with_gdal(bytes, "b.gpkg", "GPKG");
    const OGRSpatialReference* reference = dataset->GetLayerByName("stops")->GetSpatialRef();
    ASSERT_NE(reference, nullptr);
    EXPECT_STREQ(reference->GetAuthorityCode(nullptr), "4326");
    EXPECT_EQ(dataset->GetLayerByName("stops")->GetGeomType(), wkbPoint);
    EXPECT_EQ(dataset->GetLayerByName("legs")->GetGeomType(), wkbMultiLineString);
}

TEST(GeoPackage, ImperialPlansAreInMiles) {
    Plan plan = sample_plan();
    plan.units = "imperial";
    const Dataset dataset = open_with_gdal(to_geopackage(plan, ""), "c.gpkg", "GPKG");
    EXPECT_NEAR(features_of(*dataset, "legs")[0].number("length_mi"), *plan.options[0].length_m / 1609.344,
                0.001);
    EXPECT_EQ(features_of(*dataset, "legs")[0].text("length_km"), "no such field");
}

TEST(GeoPackage, AStrangersNameIsOnlyText) {
    Plan plan = sample_plan();
    plan.options[0].stops[1].place = "Robert'); DROP TABLE stops;--\x01\xff";
    const Dataset dataset = open_with_gdal(to_geopackage(plan, ""), "d.gpkg", "GPKG");
    EXPECT_EQ(features_of(*dataset, "stops").size(), 4u);
    EXPECT_NE(features_of(*dataset, "stops")[1].text("place").find("DROP TABLE"), std::string::npos);
}

TEST(Kml, FoldersAreLayersWithTimes) {
    const Plan plan = sample_plan();
    const Dataset dataset = open_with_gdal(to_kml(plan, ""), "a.kml", "LIBKML");
    EXPECT_EQ(layer_names(*dataset), "legs stops segments flags ");
    const auto stops = features_of(*dataset, "stops");
    ASSERT_EQ(stops.size(), 4u);
    EXPECT_EQ(stops[2].text("Name"), "14.5 km re-lube stop");
    EXPECT_EQ(stops[2].text("timestamp"), "2026/07/14 13:00:00+00");
    EXPECT_EQ(stops[2].text("side"), "left");
    const auto legs = features_of(*dataset, "legs");
    ASSERT_EQ(legs.size(), 1u);
    EXPECT_EQ(legs[0].text("begin"), "2026/07/14 12:12:00+00");  // after the powder
    EXPECT_EQ(legs[0].text("end"), "2026/07/14 14:02:00+00");
    EXPECT_EQ(features_of(*dataset, "segments").size(), 5u);
    // Only flags that have a place are on a map.
    EXPECT_EQ(features_of(*dataset, "flags").size(), 1u);
}

TEST(Kml, EveryStyleNamedIsThere) {
    const std::string kml = to_kml(sample_plan(), "");
    std::size_t count = 0;
    for (auto at = kml.find("<styleUrl>#"); at != std::string::npos;
         at = kml.find("<styleUrl>#", at + 1), ++count) {
        const auto from = at + 11;
        const std::string id = kml.substr(from, kml.find('<', from) - from);
        EXPECT_NE(kml.find("<Style id=\"" + id + "\">"), std::string::npos) << id;
    }
    EXPECT_EQ(count, 1u + 4u + 5u + 1u);
}

TEST(Kml, AStrangersNameIsOnlyText) {
    Plan plan = sample_plan();
    plan.move.to_name = "<script>&\x02\xEF\xBF\xBF";
    const std::string kml = to_kml(plan, "");
    EXPECT_EQ(kml.find("<script>"), std::string::npos);
    EXPECT_EQ(features_of(*open_with_gdal(kml, "b.kml", "LIBKML"), "stops").size(), 4u);
}

TEST(StopsCsv, IsATableThatGdalReads) {
    const Plan plan = sample_plan();
    const std::string csv = to_stops_csv(plan, "");
    EXPECT_EQ(
        csv.substr(0, csv.find('\n')),
        "name,number,kind,at_km,since_stop_km,since_relube_km,arrive,leave,wait_min,side,place,how_to_find,why,to_do,"
        "cautions,lat,lon");
    const Dataset dataset = open_with_gdal(csv, "stops.csv", "CSV");
    const auto rows = features_of(*dataset, nullptr);
    ASSERT_EQ(rows.size(), 4u);
    EXPECT_EQ(rows[2].text("arrive"), "2026-07-14T15:00:00+02:00");
    EXPECT_EQ(rows[2].text("how_to_find"), "left, 1.2 km after the level crossing; 40 m up the track");
    EXPECT_EQ(rows[2].text("wait_min"), "12");
    EXPECT_EQ(GeoPoint::from_degrees(std::stod(rows[2].text("lat")), std::stod(rows[2].text("lon"))),
              plan.options[0].stops[2].point);
}

TEST(StopsCsv, NoCellIsAFormula) {
    Plan plan = sample_plan();
    plan.options[0].stops[0].place = "=HYPERLINK(\"x\",\"y\")";
    plan.options[0].stops[1].place = "line\nbreak";
    const std::string csv = to_stops_csv(plan, "");
    EXPECT_NE(csv.find("\"'=HYPERLINK(\"\"x\"\",\"\"y\"\")\""), std::string::npos) << csv;
    EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 5);
}

TEST(Exports, AnOptionWithoutAWayIsAnError) {
    const Plan plan = sample_plan();
    EXPECT_THROW(static_cast<void>(to_kml(plan, "least-hard")), Error);
    EXPECT_THROW(static_cast<void>(to_geopackage(plan, "least-hard")), Error);
    EXPECT_THROW(static_cast<void>(to_stops_csv(plan, "least-hard")), Error);
    const std::string empty = to_stops_csv(plan, "haul");  // a head without rows
    EXPECT_EQ(std::count(empty.begin(), empty.end(), '\n'), 1);
}

}  // namespace
