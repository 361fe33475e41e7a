// SPDX-License-Identifier: Apache-2.0
#include "loamway/geodata/height_rasters.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "support/made_raster.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::MadeRaster;
using test::TempDir;
using test::write_raster;

std::vector<float> heights(const std::vector<std::string>& paths, const std::vector<GeoPoint>& points) {
    HeightRasters rasters(paths);
    std::vector<float> metres(points.size());
    rasters.sample(points, metres);
    return metres;
}

float height(const std::vector<std::string>& paths, double lat, double lon) {
    return heights(paths, {GeoPoint::from_degrees(lat, lon)})[0];
}

std::vector<GeoPoint> points_within(double south, double west, double north, double east, int count) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> lat(south, north), lon(west, east);
    std::vector<GeoPoint> points;
    for (int i = 0; i < count; ++i)
        points.push_back(GeoPoint::from_degrees(lat(random), lon(random)));
    return points;
}

/// Between the centres of pixels a plane comes back as the plane, however the file is laid out.
TEST(HeightRasters, PlaneOfEveryLayout) {
    const TempDir dir;
    const auto plane = [](double lon, double lat) { return 100 + 800 * (lon - 13) - 500 * (lat - 54); };
    const std::vector<GeoPoint> points = points_within(53.9205, 13.0005, 53.9995, 13.0995, 4000);
    using Options = std::vector<std::string>;
    for (const Options& options :
         {Options{}, Options{"TILED=YES", "BLOCKXSIZE=16", "BLOCKYSIZE=32"},
          Options{"BLOCKYSIZE=1", "COMPRESS=LZW"},
          Options{"TILED=YES", "BLOCKXSIZE=256", "BLOCKYSIZE=256", "COMPRESS=DEFLATE"},
          Options{"ENDIANNESS=BIG"}, Options{"BIGTIFF=YES"}}) {
        const std::string path = dir.file("plane.tif");
        write_raster({.value = plane, .options = options}, path);
        const std::vector<float> got = heights({path}, points);
        for (std::size_t i = 0; i < points.size(); ++i)
            ASSERT_NEAR(got[i], plane(points[i].lon(), points[i].lat()), 0.01) << i;
    }
}

TEST(HeightRasters, RimAndBeyond) {
    const TempDir dir;
    const std::string path = dir.file("a.tif");
    write_raster({.value = [](double lon, double) { return 1000 * (lon - 13); }}, path);
    EXPECT_NEAR(height({path}, 53.95, 13.00001), 0.5, 1e-3);  // the outermost centre is at 13.0005
    EXPECT_NEAR(height({path}, 53.95, 13.09999), 99.5, 1e-3);
    EXPECT_FALSE(std::isnan(height({path}, 53.99999, 13.05)));
    EXPECT_TRUE(std::isnan(height({path}, 54.00001, 13.05)));
    EXPECT_TRUE(std::isnan(height({path}, 53.95, 12.99999)));
    EXPECT_TRUE(std::isnan(height({path}, 53.95, 13.10001)));
    EXPECT_TRUE(std::isnan(height({path}, -53.95, -179.9)));
}

/// The raster says how far east a point is in its own projection, so the answer is the projection's.
TEST(HeightRasters, OtherCoordinateSystems) {
    const TempDir dir;
    const std::string path = dir.file("east.tif");
    struct Case {
        std::string crs;
        double left, top, pixel;
    };
    for (const Case& c :
         {Case{"EPSG:32633", 368'000, 5'985'000, 30}, Case{"EPSG:25833", 368'000, 5'985'000, 10},
          Case{"EPSG:3035", 4'508'000, 3'450'000, 25}, Case{"EPSG:3857", 1'447'000, 7'145'000, 40}}) {
        const int size = static_cast<int>(60'000 / c.pixel);
        write_raster({.width = size,
                      .height = size,
                      .left = c.left,
                      .top = c.top,
                      .pixel_x = c.pixel,
                      .pixel_y = c.pixel,
                      .crs = c.crs,
                      .value = [&c](double x, double) { return (x - c.left) / 10; }},
                     path);
        OGRSpatialReference world, own;
        world.SetWellKnownGeogCS("WGS84");
        world.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
        own.SetFromUserInput(c.crs.c_str());
        own.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
        const std::unique_ptr<OGRCoordinateTransformation> t(OGRCreateCoordinateTransformation(&world, &own));
        const std::vector<GeoPoint> points = points_within(53.6, 13.2, 53.8, 13.5, 2000);
        const std::vector<float> got = heights({path}, points);
        for (std::size_t i = 0; i < points.size(); ++i) {
            double x = points[i].lon(), y = points[i].lat();
            ASSERT_TRUE(t->Transform(1, &x, &y));
            // A fiftieth of a pixel, and what a float holds of 6,000.
            ASSERT_NEAR(got[i], (x - c.left) / 10, c.pixel / 10 / 50 + 1e-3) << c.crs;
        }
    }
}

TEST(HeightRasters, TwistedRaster) {
    const TempDir dir;
    const std::string path = dir.file("t.tif");
    {
        MadeRaster r;
        r.value = [](double, double) { return 0; };
        write_raster(r, path);
        std::unique_ptr<GDALDataset> d(GDALDataset::Open(path.c_str(), GDAL_OF_UPDATE));
        double place[6] = {13.0, 0.0008, 0.0003, 54.0, 0.0003, -0.0008};
        d->SetGeoTransform(place);
        std::vector<float> row(100);
        for (int y = 0; y < 80; ++y) {
            for (int x = 0; x < 100; ++x)
                row[static_cast<std::size_t>(x)] = static_cast<float>(x + 0.5);
            ASSERT_EQ(d->GetRasterBand(1)->RasterIO(GF_Write, 0, y, 100, 1, row.data(), 100, 1, GDT_Float32,
                                                    0, 0, nullptr),
                      CE_None);
        }
    }
    // 30.25 pixels to the right and 20.75 down.
    EXPECT_NEAR(
        height({path}, 54.0 + 30.25 * 0.0003 - 20.75 * 0.0008, 13.0 + 30.25 * 0.0008 + 20.75 * 0.0003), 30.25,
        0.02);
}

TEST(HeightRasters, Voids) {
    const TempDir dir;
    const std::string path = dir.file("v.tif");
    // A void of one pixel at 13.0505, 53.9605; around it 50.
    const auto hole = [](double with) {
        return [with](double lon, double lat) {
            return std::abs(lon - 13.0505) < 1e-6 && std::abs(lat - 53.9605) < 1e-6 ? with : 50.0;
        };
    };
    for (const auto& [type, value, no_data] :
         {std::tuple{GDT_Int16, -9999.0, std::optional<double>(-9999)},
          std::tuple{GDT_Int16, -32768.0, std::optional<double>()},
          std::tuple{GDT_Float32, std::nan(""), std::optional<double>()},
          std::tuple{GDT_Float32, -3.4e38, std::optional<double>(-3.4e38)},
          std::tuple{GDT_Float32, 0.0, std::optional<double>(0.0)},
          std::tuple{GDT_Float32, 1e30, std::optional<double>()}}) {
        write_raster({.value = hole(value), .type = type, .no_data = no_data}, path);
        EXPECT_TRUE(std::isnan(height({path}, 53.9605, 13.0505))) << value;
        EXPECT_TRUE(std::isnan(height({path}, 53.9604, 13.0509))) << value;  // nearest to the void
        EXPECT_FLOAT_EQ(height({path}, 53.9604, 13.0512), 50.0f) << value;   // nearest to a height
        EXPECT_FLOAT_EQ(height({path}, 53.9625, 13.0505), 50.0f) << value;
    }
}

TEST(HeightRasters, SeveralFiles) {
    const TempDir dir;
    const std::string west = dir.file("west.tif"), east = dir.file("east.tif"),
                      coarse = dir.file("coarse.tif");
    const auto flat = [](double h) { return [h](double, double) { return h; }; };
    write_raster({.value = [](double lon, double) { return lon < 13.02 ? -9999.0 : 10.0; }, .no_data = -9999},
                 west);
    write_raster({.left = 13.1, .value = flat(20)}, east);
    write_raster(
        {.width = 10, .height = 8, .left = 13.0, .pixel_x = 0.05, .pixel_y = 0.05, .value = flat(30)},
        coarse);
    const std::vector<GeoPoint> points{
        GeoPoint::from_degrees(53.95, 13.05), GeoPoint::from_degrees(53.95, 13.15),
        GeoPoint::from_degrees(53.95, 13.01), GeoPoint::from_degrees(53.95, 13.3)};
    EXPECT_EQ(heights({west, east, coarse}, points), (std::vector<float>{10, 20, 30, 30}));
    EXPECT_EQ(heights({coarse, west, east}, points), (std::vector<float>{30, 30, 30, 30}));
    const HeightRasters rasters(std::vector<std::string>{west, east});
    EXPECT_EQ(rasters.size(), 2u);
    EXPECT_EQ(rasters.name(1), "east.tif");
    const auto box = [](double south, double w, double north, double e) {
        return std::pair(GeoPoint::from_degrees(south, w), GeoPoint::from_degrees(north, e));
    };
    const auto near = box(53.9, 13.0, 54.0, 13.05), far = box(10, 10, 11, 11);
    EXPECT_TRUE(rasters.touches(0, near.first, near.second));
    EXPECT_FALSE(rasters.touches(1, near.first, near.second));
    EXPECT_FALSE(rasters.touches(0, far.first, far.second));
}

TEST(HeightRasters, UnitsAndScales) {
    const TempDir dir;
    const std::string path = dir.file("u.tif");
    const auto thousand = [](double, double) { return 1000.0; };
    write_raster({.value = thousand, .unit = "ft"}, path);
    EXPECT_NEAR(height({path}, 53.95, 13.05), 304.8, 1e-3);
    write_raster({.value = thousand, .unit = "US survey foot"}, path);
    EXPECT_NEAR(height({path}, 53.95, 13.05), 304.8006, 1e-3);
    write_raster({.value = thousand, .type = GDT_Int16, .scale = 0.1, .offset = -20}, path);
    EXPECT_NEAR(height({path}, 53.95, 13.05), 80.0, 1e-3);
}

/// Points along roads: nearly every block is decoded once, also in files of one row a block.
TEST(HeightRasters, BlocksAreDecodedOnce) {
    const TempDir dir;
    const std::string path = dir.file("b.tif");
    write_raster({.width = 1000,
                  .height = 1000,
                  .pixel_x = 1e-4,
                  .pixel_y = 1e-4,
                  .value = [](double lon, double) { return lon; },
                  .options = {"TILED=YES", "BLOCKXSIZE=128", "BLOCKYSIZE=128"}},
                 path);
    HeightRasters rasters(std::vector<std::string>{path});
    std::vector<GeoPoint> points;
    for (int i = 0; i < 100'000; ++i)
        points.push_back(GeoPoint::from_degrees(53.95 + 0.049 * std::sin(i * 0.001),
                                                13.05 + 0.049 * std::cos(i * 0.0013)));
    std::vector<float> metres(points.size());
    rasters.sample(points, metres);
    EXPECT_LE(rasters.pieces_read(), 64u);
    EXPECT_GE(rasters.pieces_read(), 20u);
}

}  // namespace
}  // namespace loamway
