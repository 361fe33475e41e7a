// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/distance_to.h"

#include <algorithm>
#include <functional>
#include <queue>

namespace loamway {

DistanceTo::DistanceTo(const Hierarchy& hierarchy)
    : m_hierarchy(&hierarchy),
      m_weight(hierarchy.node_count()),
      m_reached(hierarchy.node_count(), 0),
      m_known(hierarchy.node_count(), 0) {}

// Backwards from the targets up to the roots, by rising rank; only ranks that were reached are visited.
void DistanceTo::set(const HierarchyMetric& metric, std::span<const WeightedNode> targets,
                     RouteWeight at_most) {
    m_metric = &metric;
    m_top = 0;
    if (++m_now == 0) {  // after 2^32 settings the numbers repeat
        std::fill(m_reached.begin(), m_reached.end(), 0);
        std::fill(m_known.begin(), m_known.end(), 0);
        m_now = 1;
    }
    std::priority_queue<std::uint32_t, std::vector<std::uint32_t>, std::greater<>> ranks;
    const auto reach = [&](std::uint32_t rank, RouteWeight weight) {
        if (weight == infinite_weight || weight > at_most)
            return;
        m_top = std::max(m_top, rank + 1);
        if (m_reached[rank] != m_now) {
            m_reached[rank] = m_now;
            m_weight[rank] = weight;
            ranks.push(rank);
        } else {
            m_weight[rank] = std::min(m_weight[rank], weight);
        }
    };
    for (const WeightedNode& t : targets)
        reach(m_hierarchy->rank(t.node), t.weight);
    while (!ranks.empty()) {
        const std::uint32_t x = ranks.top();
        ranks.pop();
        for (std::uint32_t arc = m_hierarchy->up_begin(x); arc < m_hierarchy->up_end(x); ++arc)
            reach(m_hierarchy->up_head(arc), add_weights(m_weight[x], metric.down()[arc]));
    }
}

// A best way climbs, then descends; so a rank's weight follows from those of its heads, which are ancestors.
RouteWeight DistanceTo::operator()(NodeId node) {
    m_chain.clear();
    for (std::uint32_t x = m_hierarchy->rank(node); x < m_top && m_known[x] != m_now;
         x = m_hierarchy->parent(x))
        m_chain.push_back(x);
    for (auto x = m_chain.rbegin(); x != m_chain.rend(); ++x) {
        RouteWeight best = reached(*x);
        for (std::uint32_t arc = m_hierarchy->up_begin(*x); arc < m_hierarchy->up_end(*x); ++arc) {
            const std::uint32_t head = m_hierarchy->up_head(arc);
            if (head >= m_top)
                break;
            best = std::min(best, add_weights(m_metric->up()[arc], m_weight[head]));
        }
        m_weight[*x] = best;
        m_known[*x] = m_now;
    }
    const std::uint32_t rank = m_hierarchy->rank(node);
    return rank < m_top ? m_weight[rank] : infinite_weight;
}

}  // namespace loamway
