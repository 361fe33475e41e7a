// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_EXCHANGE_PLACES_H
#define LOAMWAY_EXCHANGE_PLACES_H

// Places a user names: a GeoJSON file of points (WGS84), made by hand or by any map program.

#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

struct PlaceEntry {
    std::string name;
    GeoPoint point;
    bool stop = false;  // the user says that the machine can stand here
};

/// A Feature or a FeatureCollection of Points. Properties: "name" (needed), "kind" = "place" or "stop",
/// "note" (kept by the user, not used). Anything else is an input Error with file and line.
[[nodiscard]] std::vector<PlaceEntry> read_places(const std::string& path);
[[nodiscard]] std::vector<PlaceEntry> parse_places(std::string_view json, const std::string& file);

}  // namespace loamway

#endif
