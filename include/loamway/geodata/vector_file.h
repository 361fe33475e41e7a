// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GEODATA_VECTOR_FILE_H
#define LOAMWAY_GEODATA_VECTOR_FILE_H

// Points and lines with attributes as layers, for files that other people's map programs read. WGS84.

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/base/time.h"

namespace loamway {

enum class FieldKind { text, whole, number, truth, time };
/// Empty: not known.
using FieldValue = std::variant<std::monostate, std::string, std::int64_t, double, bool, Instant>;

struct VectorField {
    std::string name;
    FieldKind kind = FieldKind::text;
};
struct VectorFeature {
    std::vector<std::vector<GeoPoint>> lines;  // of a point layer: one line of one point; may be empty
    std::vector<FieldValue> values;            // one a field
};
enum class ShapeKind { point, line };
struct VectorLayer {
    std::string name, title;
    ShapeKind shape = ShapeKind::point;
    std::vector<VectorField> fields;
    std::vector<VectorFeature> features;
};

/// A GeoPackage (OGC 12-128) with one table a layer: points, or multi-lines. The same layers and date give
/// the same bytes. Made by GDAL, which is loaded now; an io Error when it is missing.
[[nodiscard]] std::string geopackage(std::span<const VectorLayer> layers, Instant date);

}  // namespace loamway

#endif
