// SPDX-License-Identifier: Apache-2.0
#include "stop_reach.h"

#include <cmath>

#include "edge_grid.h"

namespace loamway {

namespace {

// Two places farther apart than this in latitude cannot be within reach, whatever the longitude: 1e-7
// degrees.
constexpr std::int64_t far_in_latitude = 30000;  // 330 m, a side way included

bool out_of_reach(const Correction& c, const StopPlaceRecord& place) {
    if (!c.is_point())
        return false;
    return std::abs(std::int64_t{place.lat_e7} - c.line.front().lat_e7) > far_in_latitude;
}

/// Points on a side way within its usable part, the mouth first.
bool stands_near(const RegionView& region, const Correction& c, const StopPlaceRecord& place) {
    const EdgeId edge{place.edge};
    const std::vector<GeoPoint> line = region.edge_points(edge);
    const std::uint32_t length_dm = region.edges[edge.index()].length_dm;
    for (const GeoPoint p : c.line) {
        const Projection at = project(p, line);
        const std::uint32_t offset = offset_on_edge(region, edge, at);
        const std::uint32_t inside = place.offset_dm == 0 ? offset : length_dm - offset;
        if (at.distance <= beside_place && inside > 0 && inside <= place.usable_dm)
            return true;
    }
    return false;
}

}  // namespace

Length distance_to(const Correction& c, GeoPoint p) {
    return c.is_point() ? distance(c.line.front(), p) : project(p, c.line).distance;
}

bool takes_away(const RegionView& region, const Correction& no_stop, const StopPlaceRecord& place) {
    if (out_of_reach(no_stop, place))
        return false;
    if (distance_to(no_stop, {place.lat_e7, place.lon_e7}) <= beside_place)
        return true;
    return place.kind == StopPlaceKind::side_way && stands_near(region, no_stop, place);
}

bool has_key(const RegionView& region, std::uint32_t tag_set, std::string_view key) {
    for (std::uint32_t i = region.tag_set_first[tag_set]; i + 1 < region.tag_set_first[tag_set + 1]; i += 2)
        if (region.string(region.tag_set_strings[i]) == key)
            return true;
    return false;
}

}  // namespace loamway
