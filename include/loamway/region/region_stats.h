// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REGION_REGION_STATS_H
#define LOAMWAY_REGION_REGION_STATS_H

// What a region holds, in figures for `loamway region info`. Pure function of the view; one pass over
// nodes, edges and shapes.

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/base/surface.h"
#include "loamway/base/units.h"
#include "loamway/region/region.h"

namespace loamway {

/// Road of one surface class. Known and assumed lengths of the three classes add up to all roads.
struct SurfaceLength {
    Length known;              // edges whose class is known
    Length assumed;            // expected length: each assumed edge counts by its odds
    Length assumed_likeliest;  // the same edges, each counted whole as its likeliest class
};

/// Across the date line, where that is the shorter way, the west lies east of the east.
struct RegionBounds {
    GeoPoint south_west;
    GeoPoint north_east;
};

struct RegionStats {
    std::array<SurfaceLength, surface_class_count> surface;  // by SurfaceClass
    Length total;                                            // every edge once
    Length with_heights;                                     // edges whose heights are known
    std::size_t nodes = 0;
    std::size_t edges = 0;
    std::size_t arcs = 0;
    std::size_t components = 0;
    std::vector<Length> largest_components;  // road in up to five of them, longest first
    std::optional<RegionBounds> bounds;      // of nodes and shapes; nothing without nodes
};

[[nodiscard]] RegionStats region_stats(const RegionView& view);

}  // namespace loamway

#endif
