// SPDX-License-Identifier: Apache-2.0
// Points and fields from files of map programs, made with GDAL itself; strange ones are refused in one line.
#include "loamway/geodata/vector_features.h"

#include <gtest/gtest.h>
#include <ogrsf_frmts.h>

#include <cmath>
#include <filesystem>
#include <memory>

#include "loamway/base/error.h"
#include "support/damage.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::slurp;
using test::TempDir;

/// A point "Yard" and, where the format has areas, a field "Long Forty", in this coordinate system (0: none).
void make_file(const std::string& path, const char* driver, int epsg, double x, double y, double size,
               bool field) {
    GDALAllRegister();
    OGRSpatialReference srs;
    if (epsg != 0) {
        ASSERT_EQ(srs.importFromEPSG(epsg), OGRERR_NONE);
        srs.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    }
    GDALDriver* const d = GetGDALDriverManager()->GetDriverByName(driver);
    ASSERT_NE(d, nullptr) << driver;
    std::unique_ptr<GDALDataset> set(d->Create(path.c_str(), 0, 0, 0, GDT_Unknown, nullptr));
    ASSERT_NE(set, nullptr) << driver;
    const bool gpx = std::string_view(driver) == "GPX";
    OGRLayer* const layer = set->CreateLayer(gpx ? "waypoints" : "places", epsg != 0 ? &srs : nullptr,
                                             field ? wkbPolygon : wkbPoint);
    ASSERT_NE(layer, nullptr);
    if (!gpx) {
        OGRFieldDefn name("Name", OFTString), entrance("entrance", OFTString);
        static_cast<void>(layer->CreateField(&name));
        static_cast<void>(layer->CreateField(&entrance));
    }
    std::unique_ptr<OGRFeature> feature(OGRFeature::CreateFeature(layer->GetLayerDefn()));
    const auto set_field = [&](const char* key, const char* value) {
        const int i = feature->GetFieldIndex(key);
        if (i >= 0)
            feature->SetField(i, value);
    };
    set_field("name", field ? "Long Forty" : "Mühlenhof");
    if (field) {
        set_field("entrance", "47.1,-35.5");
        OGRLinearRing ring;
        for (const auto& [dx, dy] : {std::pair{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}})
            ring.addPoint(x + dx * size, y + dy * size);
        OGRPolygon polygon;
        polygon.addRing(&ring);
        feature->SetGeometry(&polygon);
    } else {
        OGRPoint point(x, y);
        feature->SetGeometry(&point);
    }
    ASSERT_EQ(layer->CreateFeature(feature.get()), OGRERR_NONE);
}

std::string line_of(const std::string& path) {
    try {
        static_cast<void>(read_vector_file(path));
    } catch (const Error& e) {
        EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos) << e.what();
        return e.what();
    }
    return "no error";
}

TEST(VectorFeatures, PointsOfEveryFormat) {
    const TempDir dir;
    for (const auto& [driver, name] : {std::pair{"GPKG", "p.gpkg"},
                                       {"ESRI Shapefile", "p.shp"},
                                       {"KML", "p.kml"},
                                       {"GPX", "p.gpx"},
                                       {"FlatGeobuf", "p.fgb"}}) {
        SCOPED_TRACE(driver);
        make_file(dir.file(name), driver, 4326, -35.5, 47.2, 0, false);
        const auto features = read_vector_file(dir.file(name));
        ASSERT_EQ(features.size(), 1u);
        EXPECT_EQ(features[0].attribute("name"), "Mühlenhof");
        ASSERT_EQ(features[0].points.size(), 1u);
        EXPECT_EQ(features[0].points[0], GeoPoint::from_degrees(47.2, -35.5));
    }
}

TEST(VectorFeatures, FieldsOfEveryFormatThatHasAreas) {
    const TempDir dir;
    for (const auto& [driver, name] :
         {std::pair{"GPKG", "f.gpkg"}, {"ESRI Shapefile", "f.shp"}, {"FlatGeobuf", "f.fgb"}}) {
        SCOPED_TRACE(driver);
        make_file(dir.file(name), driver, 4326, -35.5, 47.2, 0.01, true);
        const auto features = read_vector_file(dir.file(name));
        ASSERT_EQ(features.size(), 1u);
        EXPECT_EQ(features[0].attribute("entrance"), "47.1,-35.5");
        ASSERT_EQ(features[0].rings.size(), 1u);
        EXPECT_EQ(features[0].rings[0].size(), 5u);
    }
}

// UTM zone 33 and web Mercator: the same place.
TEST(VectorFeatures, OtherCoordinateSystemsBecomeWgs84) {
    const TempDir dir;
    make_file(dir.file("utm.gpkg"), "GPKG", 32633, 500000, 0.9996 * 5540847.042, 0, false);
    const GeoPoint p = read_vector_file(dir.file("utm.gpkg")).at(0).points.at(0);
    // On the central meridian, 15 degrees east, the northing is 0.9996 times the meridian arc, which is
    // 5,540,847.042 m to 50 degrees north on WGS84 (value from memory).
    EXPECT_NEAR(p.lon(), 15.0, 1e-6);
    EXPECT_NEAR(p.lat(), 50.0, 1e-6);
    make_file(dir.file("mercator.shp"), "ESRI Shapefile", 3857, 20037508.342789244 / 12, 0, 0, false);
    const GeoPoint q = read_vector_file(dir.file("mercator.shp")).at(0).points.at(0);
    EXPECT_NEAR(q.lon(), 15.0, 1e-6);
    EXPECT_NEAR(q.lat(), 0.0, 1e-6);
}

TEST(VectorFeatures, ATableWithColumnsLatAndLon) {
    const TempDir dir;
    const auto features =
        read_vector_file(dir.write("p.csv", "name,lat,lon,kind\n\"Yard, old\",47.2,-35.5,stop\n"));
    ASSERT_EQ(features.size(), 1u);
    EXPECT_EQ(features[0].attribute("name"), "Yard, old");
    EXPECT_EQ(features[0].attribute("kind"), "stop");
    EXPECT_EQ(features[0].points.at(0), GeoPoint::from_degrees(47.2, -35.5));
}

TEST(VectorFeatures, StrangeFilesAreRefusedInOneLine) {
    const TempDir dir;
    EXPECT_NE(line_of("/vsicurl/http://example.org/a.gpkg").find("/vsi"), std::string::npos);
    EXPECT_NE(line_of("https://example.org/a.kml"), "no error");
    EXPECT_NE(line_of("PG:dbname=a"), "no error");
    EXPECT_NE(line_of(dir.file("none.gpkg")).find("no such file"), std::string::npos);
    EXPECT_NE(line_of(dir.write("a.txt", "x")).find("gpkg, shp"), std::string::npos);
    // A file that only points somewhere else, under the name of one that does not.
    const char* vrt =
        "<OGRVRTDataSource><OGRVRTLayer name=\"a\"><SrcDataSource>/etc/passwd</SrcDataSource>"
        "</OGRVRTLayer></OGRVRTDataSource>";
    for (const char* name : {"v.gpkg", "v.shp", "v.kml", "v.gpx", "v.fgb"})
        EXPECT_NE(line_of(dir.write(name, vrt)).find("file that can be read"), std::string::npos) << name;
    EXPECT_NE(line_of(dir.write("empty.gpkg", "")), "no error");
    EXPECT_NE(line_of(dir.write("some.csv", "name,lat,lon\nA,47.2,-35.5\nB,N47.3,-35.5\n"))
                  .find("row 3 has no position (lat and lon are numbers"),
              std::string::npos);
    EXPECT_NE(line_of(dir.write("far.csv", "name,lat,lon\nA,147.2,-35.5\n"))
                  .find("row 2 has a position that is none on earth"),
              std::string::npos);
    make_file(dir.file("nowhere.shp"), "ESRI Shapefile", 0, 1, 2, 0, false);
    EXPECT_NE(line_of(dir.file("nowhere.shp")).find("no coordinate system"), std::string::npos);
    std::filesystem::create_directory(dir.file("folder.shp"));
    EXPECT_NE(line_of(dir.file("folder.shp")).find("regular file"), std::string::npos);
}

// Half a file was taken for a whole one with fewer places.
TEST(VectorFeatures, AFileThatBreaksOffIsRefused) {
    const TempDir dir;
    std::string gpx = "<?xml version=\"1.0\"?><gpx version=\"1.1\" creator=\"test\">";
    for (int i = 0; i < 400; ++i)
        gpx += "<wpt lat=\"47." + std::to_string(100 + i) + "\" lon=\"-35.5\"><name>Yard " +
               std::to_string(i) + "</name></wpt>\n";
    EXPECT_EQ(line_of(dir.write("whole.gpx", gpx + "</gpx>")), "no error");
    for (const std::size_t tenths : {3, 9})
        EXPECT_NE(line_of(dir.write("half.gpx", gpx.substr(0, gpx.size() * tenths / 10))), "no error")
            << tenths;
}

TEST(VectorFeatures, DamagedFilesAreReadOrRefusedInOneLine) {
    const TempDir dir;
    make_file(dir.file("g.gpkg"), "GPKG", 4326, -35.5, 47.2, 0.01, true);
    make_file(dir.file("g.fgb"), "FlatGeobuf", 4326, -35.5, 47.2, 0.01, true);
    make_file(dir.file("g.kml"), "KML", 4326, -35.5, 47.2, 0, false);
    make_file(dir.file("g.gpx"), "GPX", 4326, -35.5, 47.2, 0, false);
    test::Damage damage(20260607);
    int refused = 0;
    for (const char* name : {"g.gpkg", "g.fgb", "g.kml", "g.gpx"}) {
        const std::string whole = slurp(dir.file(name));
        for (int i = 0; i < 60; ++i)
            refused += line_of(dir.write(std::string("d") + name, damage.of(whole))) != "no error" ? 1 : 0;
    }
    EXPECT_GT(refused, 20);
}

}  // namespace
}  // namespace loamway
