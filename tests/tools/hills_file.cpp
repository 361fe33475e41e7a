// SPDX-License-Identifier: Apache-2.0
#include <gdal_priv.h>
#include <ogr_spatialref.h>

#include <memory>
#include <stdexcept>

#include "hills.h"

namespace loamway {

void write_hills(const GroundGrid& ground, const std::string& path) {
    GDALAllRegister();
    CPLStringList options;
    for (const char* option :
         {"COMPRESS=DEFLATE", "PREDICTOR=2", "ZLEVEL=9", "TILED=YES", "BLOCKXSIZE=128", "BLOCKYSIZE=128"}) {
        options.AddString(option);
    }
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GTiff");
    const std::unique_ptr<GDALDataset> file(
        driver->Create(path.c_str(), ground.width, ground.height, 1, GDT_Int16, options.List()));
    if (!file) {
        throw std::runtime_error("cannot write " + path);
    }
    double place[6] = {ground.west, ground.step, 0, ground.north, 0, -ground.step};
    OGRSpatialReference wgs84;
    wgs84.SetWellKnownGeogCS("WGS84");
    file->SetGeoTransform(place);
    file->SetSpatialRef(&wgs84);
    GDALRasterBand* band = file->GetRasterBand(1);
    band->SetUnitType("m");
    std::vector<std::int16_t> metres = ground.metres;
    if (band->RasterIO(GF_Write, 0, 0, ground.width, ground.height, metres.data(), ground.width,
                       ground.height, GDT_Int16, 0, 0, nullptr) != CE_None) {
        throw std::runtime_error("cannot write " + path);
    }
}

}  // namespace loamway
