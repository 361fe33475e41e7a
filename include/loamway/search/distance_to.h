// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_DISTANCE_TO_H
#define LOAMWAY_SEARCH_DISTANCE_TO_H

// Least weights from nodes to fixed targets, worked out only for the nodes asked for: the perfect guide of a
// search that knows more than the hierarchy does. A node costs its ancestors that no node before it had.

#include <cstdint>
#include <span>
#include <vector>

#include "loamway/search/hierarchy.h"

namespace loamway {

/// Memory of one searching thread; keeps a reference to the hierarchy and to the metric last set.
class DistanceTo {
public:
    explicit DistanceTo(const Hierarchy& hierarchy);

    /// Forgets what was worked out before. Weights above `at_most` may then come out as infinite, which saves
    /// looking at the top of the hierarchy for short moves.
    void set(const HierarchyMetric& metric, std::span<const WeightedNode> targets,
             RouteWeight at_most = infinite_weight);
    /// From the node to the best target, the target's weight included; infinite when there is no way.
    [[nodiscard]] RouteWeight operator()(NodeId node);

private:
    [[nodiscard]] RouteWeight reached(std::uint32_t rank) const {
        return m_reached[rank] == m_now ? m_weight[rank] : infinite_weight;
    }

    const Hierarchy* m_hierarchy;
    const HierarchyMetric* m_metric = nullptr;
    std::vector<RouteWeight> m_weight;     // by rank; valid where the two below say so
    std::vector<std::uint32_t> m_reached;  // setting in which a target reached the rank from below
    std::vector<std::uint32_t> m_known;    // setting in which the weight was worked out
    std::uint32_t m_now = 0;
    std::uint32_t m_top = 0;  // no rank from here on leads to a target
    std::vector<std::uint32_t> m_chain;
};

}  // namespace loamway

#endif
