// SPDX-License-Identifier: Apache-2.0
// Dijkstra's algorithm over three layers of the graph: driven before, hauled, driven after.
#include <algorithm>
#include <functional>
#include <queue>
#include <tuple>

#include "loamway/search/composition.h"

namespace loamway {

namespace {

struct Label {
    RouteWeight weight = infinite_weight;
    std::uint32_t load = 0, unload = 0;  // 0: the end itself; then the places
    RouteWeight loaded_at = 0;           // weight driven before loading
    RouteWeight unloaded_at = 0;         // weight when the machine is off the low-bed
    [[nodiscard]] auto key() const { return std::tuple(weight, load, unload); }
};

class LayeredSearch {
public:
    LayeredSearch(const RoadGraph& graph, const CompositionQuestion& q, std::span<const RouteWeight> driving,
                  std::span<const RouteWeight> hauling)
        : m_graph(graph),
          m_q(q),
          m_weights{driving, hauling, driving},
          m_nodes(static_cast<std::uint32_t>(graph.node_count())),
          m_best(std::size_t{3} * m_nodes),
          m_first_place(m_nodes, none),
          m_next_place(q.places.size()) {
        for (std::uint32_t i = static_cast<std::uint32_t>(q.places.size()); i-- > 0;) {
            m_next_place[i] = m_first_place[q.places[i].node.index()];
            m_first_place[q.places[i].node.index()] = i;
        }
    }

    std::optional<Composition> run() {
        for (const WeightedNode& s : m_q.from)
            reach(driven_before, s.node, {s.weight});
        for (const WeightedNode& s : m_q.haul_from)
            reach(hauled, s.node, {s.weight});
        m_driven = m_q.must_haul ? infinite_weight : m_q.direct;
        while (!m_queue.empty()) {
            const auto [weight, load, unload, vertex] = m_queue.top();
            if (weight > std::min(m_driven, m_hauled.weight))
                break;
            m_queue.pop();
            if (std::tuple(weight, load, unload) == m_best[vertex].key())
                settle(static_cast<Layer>(vertex / m_nodes), NodeId{vertex % m_nodes}, m_best[vertex]);
        }
        return answer();
    }

private:
    enum Layer : std::uint32_t { driven_before = 0, hauled = 1, driven_after = 2 };
    static constexpr std::uint32_t none = NodeId::none_value;

    void reach(Layer layer, NodeId node, const Label& label) {
        Label& known = m_best[layer * m_nodes + node.index()];
        if (label.weight == infinite_weight || label.key() >= known.key())
            return;
        known = label;
        m_queue.emplace(label.weight, label.load, label.unload,
                        layer * m_nodes + static_cast<std::uint32_t>(node.index()));
    }

    void settle(Layer layer, NodeId node, const Label label) {
        finish(layer, node, label);
        if (layer != driven_after)
            transfer(layer, node, label);
        for (std::uint32_t a = m_graph.arc_begin(node); a < m_graph.arc_end(node); ++a) {
            Label next = label;
            next.weight = add_weights(label.weight, m_weights[layer][a]);
            reach(layer, m_graph.head(ArcId{a}), next);
        }
    }

    void transfer(Layer layer, NodeId node, const Label& label) {
        for (std::uint32_t p = m_first_place[node.index()]; p != none; p = m_next_place[p]) {
            Label next = label;
            if (layer == driven_before) {
                next.weight = add_weights(label.weight, m_q.places[p].load);
                next.load = p + 1;
                next.loaded_at = label.weight;
                reach(hauled, node, next);
            } else {
                next.weight = add_weights(label.weight, m_q.places[p].unload);
                next.unload = p + 1;
                next.unloaded_at = next.weight;
                reach(driven_after, node, next);
            }
        }
    }

    void finish(Layer layer, NodeId node, const Label& label) {
        for (const WeightedNode& t : layer == hauled ? m_q.haul_to : m_q.to) {
            if (t.node != node)
                continue;
            Label whole = label;
            whole.weight = add_weights(label.weight, t.weight);
            if (layer == driven_before) {
                if (!m_q.must_haul)
                    m_driven = std::min(m_driven, whole.weight);
            } else if (whole.key() < m_hauled.key()) {
                m_hauled = whole;
            }
        }
    }

    [[nodiscard]] std::optional<Composition> answer() const {
        Composition c;
        c.total = std::min(m_driven, m_hauled.weight);
        if (c.total == infinite_weight)
            return std::nullopt;
        if (m_driven <= m_hauled.weight) {
            c.drive_before = m_driven;
            return c;
        }
        c.hauled = true;
        c.haul = c.total;
        if (m_hauled.load > 0) {
            c.load = m_hauled.load - 1;
            c.drive_before = m_hauled.loaded_at;
            c.haul -= c.drive_before + m_q.places[*c.load].load;
        }
        if (m_hauled.unload > 0) {
            c.unload = m_hauled.unload - 1;
            c.drive_after = c.total - m_hauled.unloaded_at;
            c.haul -= c.drive_after + m_q.places[*c.unload].unload;
        }
        return c;
    }

    using Entry = std::tuple<RouteWeight, std::uint32_t, std::uint32_t, std::uint32_t>;
    const RoadGraph& m_graph;
    const CompositionQuestion& m_q;
    std::span<const RouteWeight> m_weights[3];
    std::uint32_t m_nodes;
    std::vector<Label> m_best;                               // by layer, then node
    std::vector<std::uint32_t> m_first_place, m_next_place;  // places of a node, by rising number
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> m_queue;
    RouteWeight m_driven = infinite_weight;
    Label m_hauled;
};

}  // namespace

std::optional<Composition> find_composition_plainly(const RoadGraph& graph,
                                                    const CompositionQuestion& question,
                                                    std::span<const RouteWeight> driving,
                                                    std::span<const RouteWeight> hauling) {
    return LayeredSearch(graph, question, driving, hauling).run();
}

}  // namespace loamway
