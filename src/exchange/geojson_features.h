// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_EXCHANGE_GEOJSON_FEATURES_H
#define LOAMWAY_SRC_EXCHANGE_GEOJSON_FEATURES_H

// What all GeoJSON files that come in have in common: one Feature or a FeatureCollection, WGS84, longitude
// first.

#include <functional>
#include <string>
#include <string_view>

#include "loamway/base/geo.h"
#include "loamway/text/table.h"

namespace loamway {

/// [longitude, latitude] or [longitude, latitude, height] of a geometry.
[[nodiscard]] GeoPoint read_position(const Table& geometry, const Value& position);

/// Calls `each` for every Feature of the document, type checked, "id" and "bbox" read; `top` sees the table
/// of the collection (or of the single Feature) first, to read members of its own. `things` names the
/// content.
void read_features(const Value& document, const std::string& file, std::string_view things,
                   const std::function<void(Table& top)>& top,
                   const std::function<void(Table& feature)>& each);

}  // namespace loamway

#endif
