// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SEARCH_HIERARCHY_NETWORKS_H
#define LOAMWAY_TESTS_SEARCH_HIERARCHY_NETWORKS_H

// Networks and weights for the tests of the node hierarchy, and Boost.Graph's Dijkstra to compare with.

#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/property_map/function_property_map.hpp>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "loamway/build/build.h"
#include "loamway/graph/boost_graph.h"
#include "loamway/graph/road_graph.h"
#include "loamway/search/hierarchy.h"
#include "support/ordered_region.h"
#include "support/random_map.h"
#include "support/test_files.h"

namespace loamway::test {

/// Distances by node from several weighted starts, by Boost.Graph over the region as it lies there. An arc of
/// infinite weight is no arc.
inline std::vector<RouteWeight> boost_distances(const RoadGraph& graph,
                                                const std::vector<RouteWeight>& weights,
                                                const std::vector<WeightedNode>& starts) {
    std::vector<RouteWeight> best(graph.node_count(), infinite_weight);
    for (const WeightedNode& s : starts) {
        std::vector<RouteWeight> distance(graph.node_count(), infinite_weight);
        const auto weight_map = boost::make_function_property_map<std::uint32_t, RouteWeight>(
            [&weights](std::uint32_t arc) { return weights[arc]; });
        boost::dijkstra_shortest_paths(
            graph, s.node.value(),
            boost::weight_map(weight_map)
                .distance_map(boost::make_iterator_property_map(distance.begin(), RoadIndexMap{}))
                .vertex_index_map(RoadIndexMap{})
                .distance_inf(infinite_weight)
                .distance_combine([](RouteWeight x, RouteWeight y) {
                    return x == infinite_weight || y == infinite_weight ? infinite_weight : x + y;
                }));
        for (std::size_t n = 0; n < best.size(); ++n)
            if (distance[n] != infinite_weight)
                best[n] = std::min(best[n], distance[n] + s.weight);
    }
    return best;
}

/// Hard surface, then length; some arcs closed, some without weight, some one-way: a maze when
/// `closed_percent` is high.
inline std::vector<RouteWeight> random_weights(const RoadGraph& graph, TestRandom& random,
                                               std::uint32_t closed_percent) {
    std::vector<RouteWeight> weights(graph.arc_count());
    for (std::uint32_t a = 0; a < weights.size(); ++a) {
        const std::uint32_t length = graph.arc(ArcId{a}).length_dm;
        weights[a] = random.chance(closed_percent) ? infinite_weight
                     : random.chance(5)            ? 0
                                        : pack_weight(length * graph.edge(ArcId{a}).odds.hard, length);
    }
    return weights;
}

/// Turns the network round: what led to a node leads from it.
inline std::vector<RouteWeight> turned_round(const RoadGraph& graph,
                                             const std::vector<RouteWeight>& weights) {
    std::vector<RouteWeight> turned(weights.size());
    for (std::uint32_t a = 0; a < weights.size(); ++a)
        turned[graph.twin(ArcId{a}).index()] = weights[a];
    return turned;
}

inline NodeId random_node(const RoadGraph& graph, TestRandom& random) {
    return NodeId{random.below(static_cast<std::uint32_t>(graph.node_count()))};
}

inline std::vector<WeightedNode> random_starts(const RoadGraph& graph, TestRandom& random,
                                               std::uint32_t most) {
    std::vector<WeightedNode> starts(1 + random.below(most));
    for (WeightedNode& s : starts)
        s = {random_node(graph, random),
             pack_weight(random.below(3) * random.below(100000), random.below(30000))};
    return starts;
}

/// The demo county and the real maps (© OpenStreetMap contributors, ODbL 1.0; scripts/fetch_maps).
inline std::vector<std::string> whole_maps() {
    return {source_path("regions/demo/demo.osm.pbf"),
            std::string(LOAMWAY_MAPS_DIR) + "/neubrandenburg.osm.bz2",
            std::string(LOAMWAY_MAPS_DIR) + "/liechtenstein-2013-08-03.osm.pbf"};
}
inline Region region_of(const std::string& extract) {
    return Region::from_data(assemble(read_extract(extract, {}), Recipe{}, "test", {}));
}

}  // namespace loamway::test

#endif
