// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GEODATA_VECTOR_FEATURES_H
#define LOAMWAY_GEODATA_VECTOR_FEATURES_H

// Points and areas with their attributes from files of map programs: GeoPackage, ESRI Shapefile, KML, GPX,
// FlatGeobuf and CSV with columns lat and lon. Any coordinate system the file names becomes WGS84; a CSV is
// WGS84.

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

struct ReadFeature {
    std::int64_t number = 0;  // in the file, from 1
    std::vector<std::pair<std::string, std::string>>
        attributes;                            // names in lower case; empty values left out
    std::vector<GeoPoint> points;              // of a point or multi-point
    std::vector<std::vector<GeoPoint>> rings;  // outer boundaries of a polygon or multi-polygon

    /// Empty when it is not there.
    [[nodiscard]] std::string attribute(std::string_view name) const;
};

/// Plain local files only, told by their ending. Lines and features without geometry are left out. Errors,
/// one line that names the file: not_found, input (no such format, no coordinate system, not readable), limit
/// (more than 100,000 features, or 5 million points), io (no GDAL).
[[nodiscard]] std::vector<ReadFeature> read_vector_file(const std::string& path);
/// "gpkg, shp, kml, gpx, fgb or csv".
[[nodiscard]] std::string_view vector_endings();
[[nodiscard]] bool is_vector_file(const std::string& path);

}  // namespace loamway

#endif
