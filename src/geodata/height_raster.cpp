// SPDX-License-Identifier: Apache-2.0
#include "height_raster.h"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_vsi.h>
#include <fmt/format.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "gdal_functions.h"
#include "loamway/base/error.h"
#include "plain_file.h"

namespace loamway {
namespace {

// Kinds of files that hold everything themselves; none of them names another file.
constexpr std::array<const char*, 6> drivers{"GTiff", "AAIGrid", "SRTMHGT", "USGSDEM", "DTED", nullptr};
constexpr const char* kinds = "GeoTIFF, ASCII grid, SRTM .hgt, USGS DEM or DTED";

constexpr int least_piece = 64;                  // pixels a side, so that strips of one row are read by many
constexpr std::int64_t largest_piece = 1 << 24;  // pixels
constexpr double lowest_m = -1000,
                 highest_m = 10000;  // beyond these a pixel is void, whatever the header says

Error refusal(const std::string& path, std::string what, std::string to_do) {
    return {ErrorKind::input, std::move(what), std::move(to_do), {path, {}, {}}};
}

/// WGS84 as longitude, latitude.
std::shared_ptr<void> wgs84() {
    std::shared_ptr<void> srs(gdal().OSRNewSpatialReference(nullptr), gdal().OSRDestroySpatialReference);
    gdal().OSRSetWellKnownGeogCS(srs.get(), "WGS84");
    gdal().OSRSetAxisMappingStrategy(srs.get(), OAMS_TRADITIONAL_GIS_ORDER);
    return srs;
}

std::shared_ptr<void> transformation(const std::shared_ptr<void>& from, const std::shared_ptr<void>& to) {
    void* const made = gdal().OCTNewCoordinateTransformation(from.get(), to.get());
    if (made == nullptr)
        return {};
    return {made, [](void* t) {
                gdal().OCTDestroyCoordinateTransformation(static_cast<OGRCoordinateTransformationH>(t));
            }};
}

bool transform(void* t, double& x, double& y) {
    int reached = 0;
    double z = 0;
    gdal().OCTTransformEx(static_cast<OGRCoordinateTransformationH>(t), 1, &x, &y, &z, &reached);
    return reached != 0 && std::isfinite(x) && std::isfinite(y);
}

}  // namespace

HeightRaster::HeightRaster(const std::string& path) : m_path(path), m_name(name_of_file(path)) {
    require_plain_file(path);
    const QuietGdal quiet;
    open();
    read_layout();
    read_units();
    place_on_earth();
}

void HeightRaster::open() {
    void* const dataset = gdal().GDALOpenEx(m_path.c_str(), GDAL_OF_RASTER | GDAL_OF_READONLY, drivers.data(),
                                            nullptr, nullptr);
    if (dataset == nullptr)
        throw refusal(m_path, "this is no elevation raster that can be read",
                      fmt::format("give a {}", kinds));
    m_dataset = {dataset, [](void* d) {
                     const QuietGdal quiet;
                     gdal().GDALClose(d);
                 }};
    const int bands = gdal().GDALGetRasterCount(dataset);
    if (bands != 1)
        throw refusal(m_path, fmt::format("this raster has {} bands, heights have one", bands),
                      "give the band with the heights alone");
    m_band = gdal().GDALGetRasterBand(dataset, 1);
    if (gdal().GDALGetRasterColorTable(m_band) != nullptr ||
        gdal().GDALDataTypeIsComplex(gdal().GDALGetRasterDataType(m_band)) != 0)
        throw refusal(m_path, "this raster holds colours or complex numbers, not heights",
                      "give an elevation raster");
}

void HeightRaster::read_layout() {
    m_width = gdal().GDALGetRasterXSize(m_dataset.get());
    m_height = gdal().GDALGetRasterYSize(m_dataset.get());
    int block_width = 0, block_height = 0;
    gdal().GDALGetBlockSize(m_band, &block_width, &block_height);
    if (m_width < 1 || m_height < 1 || block_width < 1 || block_height < 1)
        throw refusal(m_path, "this raster has no pixels", "get the file again");
    const auto several = [](int block, int all) {
        const std::int64_t many = std::int64_t{block} * ((least_piece - 1) / block + 1);
        return static_cast<int>(std::min<std::int64_t>(many, std::max(block, all)));
    };
    m_piece = {several(block_width, m_width), several(block_height, m_height)};
    if (std::int64_t{m_piece.width} * m_piece.height > largest_piece)
        throw Error(ErrorKind::limit,
                    fmt::format("the blocks of this raster have {} x {} pixels, {} at most together",
                                block_width, block_height, largest_piece),
                    "store it in tiles, for example of 256 x 256", {m_path, {}, {}});
}

void HeightRaster::read_units() {
    int given = 0;
    const double nothing = gdal().GDALGetRasterNoDataValue(m_band, &given);
    if (given != 0)
        m_void = nothing;
    const std::string unit = gdal().GDALGetRasterUnitType(m_band);
    double metres = 1.0;
    if (unit == "ft" || unit == "foot" || unit == "feet")
        metres = 0.3048;
    else if (unit == "US survey foot" || unit == "ftUS")
        metres = 1200.0 / 3937.0;
    else if (!unit.empty() && unit != "m" && unit != "metre" && unit != "meter" && unit != "metres" &&
             unit != "meters")
        throw refusal(m_path, fmt::format("the heights of this raster are in \"{}\"", unit),
                      "give heights in m or ft");
    m_scale = gdal().GDALGetRasterScale(m_band, &given) * metres;
    m_offset = gdal().GDALGetRasterOffset(m_band, &given) * metres;
    if (!std::isfinite(m_scale) || !std::isfinite(m_offset) || m_scale == 0.0)
        throw refusal(m_path, "the scale of this raster's heights is no number", "get the file again");
}

void HeightRaster::place_on_earth() {
    void* const named = gdal().GDALGetSpatialRef(m_dataset.get());
    if (named == nullptr || (gdal().OSRIsGeographic(named) == 0 && gdal().OSRIsProjected(named) == 0))
        throw refusal(m_path, "this raster does not say in which coordinate system it is",
                      "give a GeoTIFF that says so, or an ASCII grid with its .prj");
    if (gdal().GDALGetGeoTransform(m_dataset.get(), m_coordinate) != CE_None ||
        gdal().GDALInvGeoTransform(m_coordinate, m_pixel) == 0)
        throw refusal(m_path, "this raster does not say where it lies", "give a GeoTIFF that says so");
    const std::shared_ptr<void> srs(gdal().OSRClone(named), gdal().OSRDestroySpatialReference);
    gdal().OSRStripVertical(srs.get());
    gdal().OSRSetAxisMappingStrategy(srs.get(), OAMS_TRADITIONAL_GIS_ORDER);
    const std::shared_ptr<void> world = wgs84();
    m_to_raster = transformation(world, srs);
    const std::shared_ptr<void> back = transformation(srs, world);
    if (!m_to_raster || !back)
        throw refusal(m_path,
                      fmt::format("this raster's coordinate system cannot be reached from WGS84 ({})",
                                  QuietGdal::last_words()),
                      "convert it to another one");
    m_lattice = std::make_unique<PointLattice>([this](double lat, double lon) { return exact(lat, lon); });
    find_bounds(back.get());
}

std::optional<PixelPoint> HeightRaster::exact(double lat, double lon) const {
    const QuietGdal quiet;
    double x = lon, y = lat;
    if (!transform(m_to_raster.get(), x, y))
        return std::nullopt;
    return PixelPoint{m_pixel[0] + x * m_pixel[1] + y * m_pixel[2],
                      m_pixel[3] + x * m_pixel[4] + y * m_pixel[5]};
}

void HeightRaster::find_bounds(void* back) {
    constexpr int steps = 32;
    constexpr double margin_deg = 0.02;  // the rim bends between the points looked at
    double south = 90, north = -90, west = 180, east = -180;
    for (int i = 0; i <= steps; ++i)
        for (int j = 0; j <= steps; ++j) {
            const double px = m_width * double{1} * i / steps, py = m_height * double{1} * j / steps;
            double x = m_coordinate[0] + px * m_coordinate[1] + py * m_coordinate[2];
            double y = m_coordinate[3] + px * m_coordinate[4] + py * m_coordinate[5];
            if (!transform(back, x, y) || std::abs(y) > 90)
                return;
            south = std::min(south, y);
            north = std::max(north, y);
            west = std::min(west, x);
            east = std::max(east, x);
        }
    const auto lat = [](double v) { return std::clamp(v, -90.0, 90.0); };
    if (west < -180 || east > 180)
        return;
    m_bounds = {GeoPoint::from_degrees(lat(south - margin_deg), std::max(-180.0, west - margin_deg)),
                GeoPoint::from_degrees(lat(north + margin_deg), std::min(180.0, east + margin_deg))};
}

void HeightRaster::read(const PixelWindow& w, std::vector<float>& metres) {
    const QuietGdal quiet;
    metres.resize(static_cast<std::size_t>(w.width) * static_cast<std::size_t>(w.height));
    if (gdal().GDALRasterIO(m_band, GF_Read, w.x, w.y, w.width, w.height, metres.data(), w.width, w.height,
                            GDT_Float32, 0, 0) != CE_None)
        throw refusal(m_path, fmt::format("this raster is damaged ({})", QuietGdal::last_words()),
                      "get the file again");
    constexpr float nothing = std::numeric_limits<float>::quiet_NaN();
    const bool has_void = m_void.has_value();
    const auto empty = static_cast<float>(m_void.value_or(0));
    const auto scale = static_cast<float>(m_scale), offset = static_cast<float>(m_offset);
    for (float& v : metres) {
        const float metre = v * scale + offset;
        const bool there = !(has_void && v == empty) && metre >= lowest_m && metre <= highest_m;
        v = there ? metre : nothing;
    }
}

}  // namespace loamway
