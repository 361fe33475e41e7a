// SPDX-License-Identifier: Apache-2.0
// How fast heights are taken along roads: points 20 m apart on winding ways over a raster of 6,000 x 6,000
// pixels, through our blocks and, on a part of the same points, through GDAL's RasterIO pixel by pixel.
#include <fmt/format.h>
#include <gdal_priv.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <vector>

#include "loamway/geodata/height_rasters.h"
#include "stopwatch.h"
#include "support/made_raster.h"
#include "support/test_random.h"

namespace loamway::test {
namespace {

constexpr int repetitions = 5;

/// Ways of 20 km each that start near where the last one ended, as edges of a region do.
std::vector<GeoPoint> points_along_roads(std::size_t count, double south, double west, double span) {
    TestRandom random(9);
    std::vector<GeoPoint> points;
    double lat = south + span / 2, lon = west + span / 2, direction = 0;
    while (points.size() < count) {
        direction += (random.below(2001) - 1000.0) * 2e-4;
        lat += 1.8e-4 * std::cos(direction);
        lon += 2.8e-4 * std::sin(direction);
        if (lat < south || lat > south + span || lon < west || lon > west + span) {
            lat = std::clamp(lat, south, south + span);
            lon = std::clamp(lon, west, west + span);
            direction += 2;
        }
        points.push_back(GeoPoint::from_degrees(lat, lon));
    }
    return points;
}

/// Four pixels a point by RasterIO, and the blend by hand: what one writes first. Only for rasters in
/// degrees.
void sample_by_rasterio(GDALDataset& file, const std::vector<GeoPoint>& points, std::vector<float>& metres) {
    double place[6] = {};
    file.GetGeoTransform(place);
    GDALRasterBand* band = file.GetRasterBand(1);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double x = (points[i].lon() - place[0]) / place[1] - 0.5,
                     y = (points[i].lat() - place[3]) / place[5] - 0.5;
        const int left = std::clamp(static_cast<int>(x), 0, file.GetRasterXSize() - 2);
        const int top = std::clamp(static_cast<int>(y), 0, file.GetRasterYSize() - 2);
        float v[4] = {};
        if (band->RasterIO(GF_Read, left, top, 2, 2, v, 2, 2, GDT_Float32, 0, 0, nullptr) != CE_None)
            return;
        const auto fx = static_cast<float>(x - left), fy = static_cast<float>(y - top);
        const float upper = v[0] + fx * (v[1] - v[0]), lower = v[2] + fx * (v[3] - v[2]);
        metres[i] = upper + fy * (lower - upper);
    }
}

void row(const std::string& name, MadeRaster raster, const std::string& path, double south, double west,
         double span) {
    write_raster(raster, path);
    const std::vector<GeoPoint> points = points_along_roads(4'000'000, south, west, span);
    std::vector<float> metres(points.size());
    const auto take = [&](HeightRasters& rasters) {
        constexpr std::size_t batch = 8192;
        for (std::size_t i = 0; i < points.size(); i += batch) {
            const std::size_t many = std::min(batch, points.size() - i);
            rasters.sample(std::span(points).subspan(i, many), std::span(metres).subspan(i, many));
        }
    };
    const double first = bench::least_of(repetitions, [&] {
        HeightRasters rasters(std::vector<std::string>{path});
        take(rasters);
    });
    HeightRasters rasters(std::vector<std::string>{path});
    take(rasters);
    const double again = bench::least_of(repetitions, [&] { take(rasters); });
    std::string beside = "- | -";
    if (raster.crs == "EPSG:4326") {
        const std::vector<GeoPoint> some(points.begin(), points.begin() + 400'000);
        std::vector<float> theirs(some.size());
        const double plain = bench::least_of(repetitions, [&] {
            const std::unique_ptr<GDALDataset> file(GDALDataset::Open(path.c_str(), GDAL_OF_RASTER));
            sample_by_rasterio(*file, some, theirs);
        });
        double off = 0;
        for (std::size_t i = 0; i < some.size(); ++i)
            off = std::max(off, double{std::abs(theirs[i] - metres[i])});
        beside = fmt::format("{:.1f} M/s | {:.3f} m", static_cast<double>(some.size()) / plain / 1e6, off);
    }
    const auto rate = [&points](double seconds) {
        return static_cast<double>(points.size()) / seconds / 1e6;
    };
    fmt::print("| {} | {:.1f} M/s | {:.1f} M/s | {} | {} |\n", name, rate(first), rate(again),
               rasters.pieces_read(), beside);
    std::filesystem::remove(path);
}

}  // namespace
}  // namespace loamway::test

int main() {
    using namespace loamway::test;
    const std::string path = (std::filesystem::temp_directory_path() / "loamway-height-bench.tif").string();
    const auto hills = [](double x, double y) { return 300 + 80 * std::sin(x * 90) * std::cos(y * 70); };
    const auto far_hills = [](double x, double y) {
        return 300 + 80 * std::sin(x / 900) * std::cos(y / 1100);
    };
    fmt::print(
        "| raster of 6,000 x 6,000 | heights taken, opening and decoding included | from decoded blocks | pieces "
        "decoded | RasterIO a point | greatest difference |\n|---|---|---|---|---|---|\n");
    MadeRaster r{.width = 6000,
                 .height = 6000,
                 .left = 13.0,
                 .top = 54.0,
                 .pixel_x = 1.0 / 3600,
                 .pixel_y = 1.0 / 3600,
                 .value = hills,
                 .type = GDT_Int16,
                 .options = {"TILED=YES", "COMPRESS=DEFLATE", "PREDICTOR=2"}};
    row("degrees, deflated tiles", r, path, 53.0, 13.2, 0.6);
    r.options = {"COMPRESS=DEFLATE", "PREDICTOR=2", "BLOCKYSIZE=1"};
    row("degrees, deflated rows", r, path, 53.0, 13.2, 0.6);
    row("UTM, deflated tiles",
        {.width = 6000,
         .height = 6000,
         .left = 300'000,
         .top = 6'000'000,
         .pixel_x = 25,
         .pixel_y = 25,
         .crs = "EPSG:32633",
         .value = far_hills,
         .type = GDT_Int16,
         .options = {"TILED=YES", "COMPRESS=DEFLATE", "PREDICTOR=2"}},
        path, 53.2, 12.7, 0.6);
    return 0;
}
