// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_EXCHANGE_GDAL_READING_H
#define LOAMWAY_TESTS_EXCHANGE_GDAL_READING_H

// Reads what we wrote with somebody else's reader.

#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include <array>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

struct CloseDataset {
    void operator()(GDALDataset* d) const { GDALClose(d); }
};
using Dataset = std::unique_ptr<GDALDataset, CloseDataset>;

/// Opens a text as a file in memory, with the one driver named. The name must stay alive with the dataset.
inline Dataset open_with_gdal(const std::string& text, const std::string& name, const char* driver) {
    GDALAllRegister();
    const std::string path = "/vsimem/" + name;
    VSILFILE* file = VSIFOpenL(path.c_str(), "wb");
    VSIFWriteL(text.data(), 1, text.size(), file);
    VSIFCloseL(file);
    const std::array<const char*, 2> drivers{driver, nullptr};
    Dataset dataset(static_cast<GDALDataset*>(
        GDALOpenEx(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_VERBOSE_ERROR, drivers.data(), nullptr, nullptr)));
    if (!dataset)
        throw std::runtime_error(std::string("GDAL cannot read it: ") + CPLGetLastErrorMsg());
    return dataset;
}

struct SeenFeature {
    std::unique_ptr<OGRFeature> feature;
    [[nodiscard]] std::string text(const char* field) const {
        const int i = feature->GetFieldIndex(field);
        return i < 0 ? "no such field" : feature->GetFieldAsString(i);
    }
    [[nodiscard]] double number(const char* field) const { return feature->GetFieldAsDouble(field); }
    [[nodiscard]] bool is_null(const char* field) const {
        return feature->IsFieldSetAndNotNull(feature->GetFieldIndex(field)) == FALSE;
    }
    [[nodiscard]] const OGRGeometry& geometry() const { return *feature->GetGeometryRef(); }
};

inline std::vector<SeenFeature> features_of(GDALDataset& dataset, const char* layer_name) {
    OGRLayer* layer = layer_name == nullptr ? dataset.GetLayer(0) : dataset.GetLayerByName(layer_name);
    if (layer == nullptr)
        throw std::runtime_error(std::string("there is no layer ") + (layer_name ? layer_name : "0"));
    std::vector<SeenFeature> out;
    layer->ResetReading();
    while (OGRFeature* f = layer->GetNextFeature())
        out.push_back({std::unique_ptr<OGRFeature>(f)});
    return out;
}

inline std::vector<GeoPoint> points_of(const OGRLineString& line) {
    std::vector<GeoPoint> out;
    for (int i = 0; i < line.getNumPoints(); ++i)
        out.push_back(GeoPoint::from_degrees(line.getY(i), line.getX(i)));
    return out;
}

/// Metres of a line or of all lines of a multi-line.
inline double metres_of(const OGRGeometry& geometry) {
    if (wkbFlatten(geometry.getGeometryType()) == wkbLineString)
        return polyline_length(points_of(*geometry.toLineString())).metres();
    double sum = 0;
    for (const OGRLineString* part : *geometry.toMultiLineString())
        sum += polyline_length(points_of(*part)).metres();
    return sum;
}

}  // namespace loamway

#endif
