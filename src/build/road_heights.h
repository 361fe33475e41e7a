// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_ROAD_HEIGHTS_H
#define LOAMWAY_SRC_BUILD_ROAD_HEIGHTS_H

// From heights of the ground to heights of roads, step by step. Each edge has evenly spaced heights, at most
// 50 m apart; those at its ends belong to its nodes, so that roads meet at one height.

#include <cstdint>
#include <span>
#include <vector>

#include "build_counts.h"
#include "loamway/build/build.h"

namespace loamway {

struct RoadHeights {
    std::vector<float> metres;  // of each node, then of the inner points of each edge; NaN where not known
    std::vector<std::uint32_t> inner_first;  // of each edge, into metres, and one last end
    std::vector<bool> known;                 // edges whose heights are all there; set by fill_heights

    [[nodiscard]] std::span<float> nodes() { return std::span(metres).first(inner_first.front()); }
    [[nodiscard]] std::span<const float> nodes() const {
        return std::span(metres).first(inner_first.front());
    }
    [[nodiscard]] std::span<float> inner_of(std::size_t edge) {
        return std::span(metres).subspan(inner_first[edge], inner_first[edge + 1] - inner_first[edge]);
    }
    [[nodiscard]] std::span<const float> inner_of(std::size_t edge) const {
        return std::span(metres).subspan(inner_first[edge], inner_first[edge + 1] - inner_first[edge]);
    }
};

/// The ground below every height of every road.
[[nodiscard]] RoadHeights sample_heights(const RegionData& region, const HeightsAt& heights_at);

/// What filling did, in decimetres of road.
struct FilledHeights {
    std::uint64_t spans_dm = 0;    // bridges and tunnels laid straight between their ends
    std::uint64_t bridged_dm = 0;  // short voids bridged along the road
    std::uint64_t unknown_dm = 0;  // edges left without heights
};
/// Bridges and tunnels get the heights between their ends, also across the edges they are cut into; voids of
/// the elevation that a road crosses within half a kilometre get those between their rims. An edge with
/// any other void is not known.
FilledHeights fill_heights(const RegionData& region, RoadHeights& heights);

/// Roads are smoother than the ground beside them and than the noise in its heights. Takes out what is
/// shorter than some hundred metres, along roads and across junctions: hills 1 km long keep 98 % of their
/// height, bumps of 100 m a quarter.
void smooth_heights(const RegionData& region, RoadHeights& heights);

/// Profiles and climbs into the region. Ups and downs under 1 m inside an edge do not count as climb.
void store_heights(RegionData& region, const RoadHeights& heights);

/// All of it, with what there is to say about it.
void add_heights(RegionData& region, const Elevation& elevation, BuildCounts& counts);

}  // namespace loamway

#endif
