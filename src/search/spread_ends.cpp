// SPDX-License-Identifier: Apache-2.0
#include "spread_ends.h"

#include <algorithm>
#include <functional>
#include <queue>

#include "loamway/search/composition.h"

namespace loamway {

void spread_ends(const VehicleRoads& roads, const RouteEnds& ends, std::span<const std::uint32_t> primary,
                 bool backwards, EndLabels& labels) {
    const RoadGraph& graph = roads.graph();
    labels.clear();
    using Entry = std::pair<RouteWeight, std::uint32_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    const auto reach = [&](NodeId at, const EndLabel& label, bool on_private_ground) {
        EndLabel& known = labels[at.value()];
        if (label.weight >= known.weight)
            return;
        known = label;
        if (on_private_ground)
            queue.emplace(label.weight, at.value());
    };
    const std::vector<RoutePiece>& pieces = backwards ? ends.targets : ends.starts;
    // Where one direction of a road is private and the other is not, both count as private: a label of the
    // open one must not hide the other's.
    const bool private_ground = std::any_of(pieces.begin(), pieces.end(),
                                            [&roads](const RoutePiece& p) { return roads.ends_only(p.arc); });
    for (std::uint32_t i = 0; i < pieces.size(); ++i) {
        const NodeId at = backwards ? graph.tail(pieces[i].arc) : graph.head(pieces[i].arc);
        reach(at, {weight_of(graph, primary, pieces[i]), at.value(), i, ArcId{}}, private_ground);
    }
    while (!queue.empty()) {
        const auto [weight, node] = queue.top();
        queue.pop();
        const EndLabel here = labels[node];
        if (here.weight != weight)
            continue;
        for (std::uint32_t i = graph.arc_begin(NodeId{node}); i < graph.arc_end(NodeId{node}); ++i) {
            const ArcId a = backwards ? graph.twin(ArcId{i}) : ArcId{i};
            if (roads.open(a) && roads.ends_only(a))
                reach(graph.head(ArcId{i}),
                      {add_weights(weight, weight_of(graph, primary, a)), node, here.piece, a}, true);
        }
    }
}

namespace {

std::vector<WeightedNode> by_node(const EndLabels& labels) {
    std::vector<WeightedNode> nodes;
    for (const auto& [node, label] : labels)
        nodes.push_back({NodeId{node}, label.weight});
    std::sort(nodes.begin(), nodes.end(),
              [](const WeightedNode& a, const WeightedNode& b) { return a.node < b.node; });
    return nodes;
}

}  // namespace

std::vector<WeightedNode> nodes_from(const VehicleRoads& roads, const RoadPoint& from,
                                     std::span<const std::uint32_t> primary) {
    EndLabels labels;
    spread_ends(roads, RouteEnds(roads, from, from), primary, false, labels);
    return by_node(labels);
}

std::vector<WeightedNode> nodes_to(const VehicleRoads& roads, const RoadPoint& to,
                                   std::span<const std::uint32_t> primary) {
    EndLabels labels;
    spread_ends(roads, RouteEnds(roads, to, to), primary, true, labels);
    return by_node(labels);
}

}  // namespace loamway
