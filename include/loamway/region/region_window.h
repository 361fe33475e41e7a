// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REGION_REGION_WINDOW_H
#define LOAMWAY_REGION_REGION_WINDOW_H

// What a drawing of a part of a region needs to know: which roads lie there and how much each of them weighs.

#include <cstddef>
#include <cstdint>
#include <vector>

#include "loamway/region/region.h"

namespace loamway {

/// South-west and north-east corner, both inside. West of east always: none lies across the 180th meridian.
struct GeoBox {
    GeoPoint low, high;
    [[nodiscard]] bool holds(GeoPoint p) const {
        return p.lat_e7 >= low.lat_e7 && p.lat_e7 <= high.lat_e7 && p.lon_e7 >= low.lon_e7 &&
               p.lon_e7 <= high.lon_e7;
    }
    [[nodiscard]] bool overlaps(const GeoBox& o) const {
        return low.lat_e7 <= o.high.lat_e7 && o.low.lat_e7 <= high.lat_e7 && low.lon_e7 <= o.high.lon_e7 &&
               o.low.lon_e7 <= high.lon_e7;
    }
    void add(GeoPoint p);
};

/// Edges of the grid's cells that the box touches, ascending: all that cross the box and some beside it.
[[nodiscard]] std::vector<std::uint32_t> edges_around(const RegionView& region, const GeoBox& box);

/// How much a road weighs on a map: 0 motorways and trunk roads, 1 primary, 2 secondary, 3 tertiary, 4 roads
/// and streets, 5 everything else (service roads, tracks, paths).
constexpr std::size_t road_rank_count = 6;
[[nodiscard]] std::uint8_t road_rank(const RegionView& region, std::uint32_t tag_set);

/// The points of an area's ring or of a line; one point for a building.
[[nodiscard]] std::vector<GeoPoint> points_of(const RegionView& region, const BackgroundRecord& background);

}  // namespace loamway

#endif
