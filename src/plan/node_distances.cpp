// SPDX-License-Identifier: Apache-2.0
#include "node_distances.h"

#include <functional>
#include <queue>
#include <utility>

namespace loamway {

NodeDistances::NodeDistances(const RoadGraph& graph, const Hierarchy* hierarchy,
                             std::vector<RouteWeight> weights)
    : m_graph(graph) {
    if (hierarchy != nullptr) {
        m_metric.emplace(*hierarchy, std::move(weights));
        m_query.emplace(*hierarchy);
    } else {
        m_weights = std::move(weights);
    }
}

std::vector<RouteWeight> NodeDistances::from(std::span<const WeightedNode> sources,
                                             std::span<const NodeId> nodes, RouteWeight at_most) {
    return run(sources, nodes, false, at_most);
}

std::vector<RouteWeight> NodeDistances::to(std::span<const WeightedNode> targets,
                                           std::span<const NodeId> nodes, RouteWeight at_most) {
    return run(targets, nodes, true, at_most);
}

std::vector<RouteWeight> NodeDistances::run(std::span<const WeightedNode> starts,
                                            std::span<const NodeId> nodes, bool backwards,
                                            RouteWeight at_most) {
    std::vector<RouteWeight> out(nodes.size(), infinite_weight);
    if (starts.empty())
        return out;
    if (m_metric && backwards)
        m_query->some_to(*m_metric, starts, nodes, out);
    else if (m_metric)
        m_query->some_from(*m_metric, starts, nodes, out);
    else
        search(starts, nodes, backwards, at_most, out);
    return out;
}

// Dijkstra's algorithm.
void NodeDistances::search(std::span<const WeightedNode> starts, std::span<const NodeId> nodes,
                           bool backwards, RouteWeight at_most, std::vector<RouteWeight>& out) {
    using Entry = std::pair<RouteWeight, std::uint32_t>;
    m_best.resize(m_graph.node_count(), infinite_weight);
    std::vector<std::uint32_t> reached;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    const auto reach = [&](NodeId n, RouteWeight w) {
        RouteWeight& best = m_best[n.index()];
        if (w >= best || w > at_most)
            return;
        if (best == infinite_weight)
            reached.push_back(n.value());
        best = w;
        queue.emplace(w, n.value());
    };
    for (const WeightedNode& s : starts)
        reach(s.node, s.weight);
    while (!queue.empty()) {
        const auto [w, n] = queue.top();
        queue.pop();
        if (w != m_best[n])
            continue;
        for (std::uint32_t a = m_graph.arc_begin(NodeId{n}); a < m_graph.arc_end(NodeId{n}); ++a) {
            const ArcId driven = backwards ? m_graph.twin(ArcId{a}) : ArcId{a};
            reach(m_graph.head(ArcId{a}), add_weights(w, m_weights[driven.index()]));
        }
    }
    for (std::size_t i = 0; i < nodes.size(); ++i)
        out[i] = m_best[nodes[i].index()];
    for (const std::uint32_t n : reached)
        m_best[n] = infinite_weight;
}

}  // namespace loamway
