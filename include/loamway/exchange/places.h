// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_EXCHANGE_PLACES_H
#define LOAMWAY_EXCHANGE_PLACES_H

// Places and fields a user names: GeoJSON (WGS84), read here, or a file of a map program (GeoPackage,
// Shapefile, KML, GPX, FlatGeobuf, CSV) through GDAL, which is loaded only then.

#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

struct PlaceEntry {
    std::string name;
    GeoPoint point;
    bool stop = false;           // the user says that the machine can stand here
    bool field = false;          // an area; `point` is where it is entered
    bool entrance_known = true;  // else `point` is a corner of the field: nobody has said where it is entered
    std::vector<GeoPoint> outline = {};  // of a field: the boundary of its first part
};

/// Each has a "name" (needed in GeoJSON; a feature of another file without one is left out) and a "kind":
/// "place" (unless said), "stop", or "entrance": then the point is where the field of the same name is
/// entered. An area is a field; its "entrance" = "LAT,LON" says the same. "note" is the user's own. In
/// GeoJSON anything else is an input Error with file and line; other files may have attributes of their own.
[[nodiscard]] std::vector<PlaceEntry> read_places(const std::string& path);
[[nodiscard]] std::vector<PlaceEntry> parse_places(std::string_view json, const std::string& file);

}  // namespace loamway

#endif
