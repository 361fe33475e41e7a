// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_MADE_RASTER_H
#define LOAMWAY_TESTS_SUPPORT_MADE_RASTER_H

// Elevation rasters for tests, written by GDAL. Needs GDAL linked.

#include <gdal_priv.h>
#include <ogr_spatialref.h>

#include <functional>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace loamway::test {

struct MadeRaster {
    int width = 100, height = 80;
    double left = 13.0, top = 54.0;  // of the upper left corner, in the raster's coordinates
    double pixel_x = 0.001, pixel_y = 0.001;
    std::string crs = "EPSG:4326";                         // empty: none
    std::function<double(double x, double y)> value = {};  // at a pixel's centre; none: left empty
    GDALDataType type = GDT_Float32;
    std::vector<std::string> options = {};  // of the driver
    std::optional<double> no_data = {};
    std::string unit = {};
    double scale = 1.0, offset = 0.0;
    int bands = 1;
    bool colours = false;
};

inline void write_raster(const MadeRaster& r, const std::string& path) {
    GDALAllRegister();
    CPLStringList options;
    for (const std::string& o : r.options)
        options.AddString(o.c_str());
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GTiff");
    std::unique_ptr<GDALDataset> d(
        driver->Create(path.c_str(), r.width, r.height, r.bands, r.type, options.List()));
    if (!d)
        throw std::runtime_error("cannot make " + path);
    double place[6] = {r.left, r.pixel_x, 0, r.top, 0, -r.pixel_y};
    d->SetGeoTransform(place);
    if (!r.crs.empty()) {
        OGRSpatialReference srs;
        srs.SetFromUserInput(r.crs.c_str());
        d->SetSpatialRef(&srs);
    }
    GDALRasterBand* band = d->GetRasterBand(1);
    if (r.no_data)
        band->SetNoDataValue(*r.no_data);
    if (!r.unit.empty())
        band->SetUnitType(r.unit.c_str());
    if (r.scale != 1.0 || r.offset != 0.0) {
        band->SetScale(r.scale);
        band->SetOffset(r.offset);
    }
    if (r.colours) {
        GDALColorTable table;
        const GDALColorEntry red{255, 0, 0, 255};
        table.SetColorEntry(1, &red);
        band->SetColorTable(&table);
    }
    if (!r.value)
        return;
    std::vector<double> row(static_cast<std::size_t>(r.width));
    for (int y = 0; y < r.height; ++y) {
        for (int x = 0; x < r.width; ++x)
            row[static_cast<std::size_t>(x)] =
                r.value(r.left + (x + 0.5) * r.pixel_x, r.top - (y + 0.5) * r.pixel_y);
        if (band->RasterIO(GF_Write, 0, y, r.width, 1, row.data(), r.width, 1, GDT_Float64, 0, 0, nullptr) !=
            CE_None)
            throw std::runtime_error("cannot write " + path);
    }
}

}  // namespace loamway::test

#endif
