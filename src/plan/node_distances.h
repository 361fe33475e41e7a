// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_NODE_DISTANCES_H
#define LOAMWAY_PLAN_NODE_DISTANCES_H

// Least weights of one vehicle from or to many nodes at once, with the hierarchy or without.

#include <optional>
#include <span>
#include <vector>

#include "loamway/graph/road_graph.h"
#include "loamway/search/hierarchy.h"

namespace loamway {

/// One object a thread. Keeps references to both.
class NodeDistances {
public:
    /// `weights` as through_weights() makes them. Without a hierarchy each question is a search of its own.
    NodeDistances(const RoadGraph& graph, const Hierarchy* hierarchy, std::vector<RouteWeight> weights);
    /// Only with a hierarchy.
    [[nodiscard]] const HierarchyMetric& metric() const { return *m_metric; }
    [[nodiscard]] std::span<const RouteWeight> weights() const {
        return m_metric ? m_metric->arc_weights() : m_weights;
    }

    /// From the sources to each of the nodes, or from each of them to the targets. What weighs more than
    /// `at_most` may come out as infinite.
    [[nodiscard]] std::vector<RouteWeight> from(std::span<const WeightedNode> sources,
                                                std::span<const NodeId> nodes, RouteWeight at_most);
    [[nodiscard]] std::vector<RouteWeight> to(std::span<const WeightedNode> targets,
                                              std::span<const NodeId> nodes, RouteWeight at_most);

private:
    [[nodiscard]] std::vector<RouteWeight> run(std::span<const WeightedNode> starts,
                                               std::span<const NodeId> nodes, bool backwards,
                                               RouteWeight at_most);
    void search(std::span<const WeightedNode> starts, std::span<const NodeId> nodes, bool backwards,
                RouteWeight at_most, std::vector<RouteWeight>& out);

    const RoadGraph& m_graph;
    std::optional<HierarchyMetric> m_metric;
    std::optional<HierarchyQuery> m_query;
    std::vector<RouteWeight> m_weights;
    std::vector<RouteWeight> m_best;  // by node, infinite between searches
};

}  // namespace loamway

#endif
