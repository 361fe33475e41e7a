// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_ASSEMBLY_H
#define LOAMWAY_SRC_BUILD_ASSEMBLY_H

// What the steps of assemble() hand on to each other. Each step is a free function over it; assemble.cpp has
// them in order. A "map node" is an index into RawMap::node_ids.

#include <cstdint>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include "build_counts.h"
#include "loamway/build/build.h"
#include "region_texts.h"

namespace loamway {

constexpr std::uint32_t no_index = 0xffffffff;

/// Where an edge's points are: a range of ref_node, all of it found, of the road way `way`.
struct RoadPiece {
    std::uint32_t ref_first;
    std::uint32_t ref_count;
    std::uint32_t way;  // index into RawMap::roads
};

struct Assembly {
    Assembly(RawMap raw, const Recipe& r) : map(std::move(raw)), recipe(r), counts(std::move(map.counts)) {}

    RawMap map;
    const Recipe& recipe;
    RegionData out;
    RegionTexts texts;
    BuildCounts counts;
    std::vector<std::uint32_t>
        ref_node;  // beside RawMap::refs: map node, or no_index when not in the extract
    std::vector<std::uint32_t> graph_node;  // of each map node, or no_index
    std::vector<RoadPiece> pieces;          // of each edge

    [[nodiscard]] GeoPoint ref_point(std::size_t ref) const { return map.node_points[ref_node[ref]]; }
    [[nodiscard]] TagView tags(std::uint32_t list) const;
};

/// Fills ref_node and lets the ids of refs go. Drops repeated nodes that follow each other.
void resolve_refs(Assembly& a);

/// Cuts roads at junctions; numbers nodes along a Hilbert curve and edges by tail; fills node_lat, node_lon,
/// node_osm, node_tags, edge_way, tails and heads, and pieces.
void split_roads(Assembly& a);

/// Lengths, shapes, tag sets, names, surfaces and flags of edges. Areas must be known.
class MapAreas;
void describe_edges(Assembly& a, const MapAreas& areas);

/// Arcs and components, from edges with their lengths.
void connect_arcs(RegionData& out);
void number_components(RegionData& out);

/// Turn restrictions. Needs graph_node and the ids of nodes, which nobody needs after it.
void resolve_restrictions(Assembly& a);

/// Names, background, the snapping grid. Places to stand: stop_candidates.h.
class RoadSegments;
void collect_places(Assembly& a, const MapAreas& areas);
void draw_background(Assembly& a, const MapAreas& areas, const RoadSegments& roads);
void make_snapping_grid(Assembly& a);

/// The node hierarchy, from the arcs.
void order_nodes(RegionData& out);

}  // namespace loamway

#endif
