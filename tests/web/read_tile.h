// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_WEB_READ_TILE_H
#define LOAMWAY_TESTS_WEB_READ_TILE_H

// Vector tiles read by GDAL, which shares no line with the writer. Needs GDAL linked.

#include <gdal_priv.h>
#include <gtest/gtest.h>
#include <ogrsf_frmts.h>

#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <numbers>
#include <string>
#include <vector>

#include "loamway/base/geo.h"
#include "tile.h"

namespace loamway::test {

struct XY {
    double x = 0, y = 0;
};

constexpr double world_m = 2 * 20037508.342789244;
inline double unit_metres(int z) {
    return world_m / 4096 / std::ldexp(1.0, z);
}

/// Web Mercator metres (EPSG:3857), by the textbook's formula.
inline XY mercator(GeoPoint p) {
    const double lat = p.lat() * std::numbers::pi / 180;
    return {p.lon() / 360 * world_m,
            std::log(std::tan(std::numbers::pi / 4 + lat / 2)) / (2 * std::numbers::pi) * world_m};
}

/// West, south, east, north in Web Mercator metres.
inline std::array<double, 4> tile_box(const TileId& id, double buffer_units = 0) {
    const double side = world_m / std::ldexp(1.0, id.z), b = buffer_units * unit_metres(id.z);
    const double west = -world_m / 2 + id.x * side, north = world_m / 2 - id.y * side;
    return {west - b, north - side - b, west + side + b, north + b};
}

inline TileId tile_at(GeoPoint p, int z) {
    const XY m = mercator(p);
    const double side = world_m / std::ldexp(1.0, z);
    return {z, static_cast<std::uint32_t>((m.x + world_m / 2) / side),
            static_cast<std::uint32_t>((world_m / 2 - m.y) / side)};
}

struct TileFeature {
    std::map<std::string, std::string> fields;
    std::unique_ptr<OGRGeometry> geometry;  // Web Mercator metres
};
using ReadTile = std::map<std::string, std::vector<TileFeature>>;

inline ReadTile read_tile(const std::string& bytes, const TileId& id) {
    ReadTile out;
    GDALAllRegister();
    const std::string path =
        "/vsimem/" + std::to_string(id.z) + "_" + std::to_string(id.x) + "_" + std::to_string(id.y) + ".mvt";
    std::string copy = bytes;
    VSIFCloseL(VSIFileFromMemBuffer(path.c_str(), reinterpret_cast<GByte*>(copy.data()), copy.size(), FALSE));
    CPLStringList options;
    options.SetNameValue("X", std::to_string(id.x).c_str());
    options.SetNameValue("Y", std::to_string(id.y).c_str());
    options.SetNameValue("Z", std::to_string(id.z).c_str());
    options.SetNameValue("CLIP", "NO");
    options.SetNameValue("METADATA_FILE", "");
    const char* const drivers[] = {"MVT", nullptr};
    {
        const std::unique_ptr<GDALDataset> data(GDALDataset::Open(
            path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY, drivers, options.List(), nullptr));
        if (!data) {
            ADD_FAILURE() << "GDAL cannot open the tile " << id.z << "/" << id.x << "/" << id.y;
        } else {
            for (OGRLayer* layer : data->GetLayers())
                for (const auto& f : *layer) {
                    TileFeature feature;
                    for (int i = 0; i < f->GetFieldCount(); ++i)
                        if (f->IsFieldSetAndNotNull(i))
                            feature.fields[f->GetFieldDefnRef(i)->GetNameRef()] = f->GetFieldAsString(i);
                    feature.geometry.reset(f->StealGeometry());
                    out[layer->GetName()].push_back(std::move(feature));
                }
        }
    }
    VSIUnlink(path.c_str());
    return out;
}

}  // namespace loamway::test

#endif
