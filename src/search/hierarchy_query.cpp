// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/search/hierarchy.h"

namespace loamway {

namespace {
constexpr std::uint32_t none = Hierarchy::none;
}

/// Visits all ancestors of a side's starts, rising: a single start's by way of the parents, others' by list.
class HierarchyQuery::Walk {
public:
    Walk(const Hierarchy& hierarchy, const Side& side)
        : m_parents(hierarchy.region().tree_parent), m_ranks(side.ranks), m_single(side.single != none) {
        m_at = m_single ? side.single : m_ranks.empty() ? none : m_ranks[0];
    }
    [[nodiscard]] std::uint32_t at() const { return m_at; }
    void next() {
        if (m_single)
            m_at = m_parents[m_at];
        else
            m_at = ++m_index < m_ranks.size() ? m_ranks[m_index] : none;
    }

private:
    std::span<const std::uint32_t> m_parents;
    std::span<const std::uint32_t> m_ranks;
    bool m_single;
    std::size_t m_index = 0;
    std::uint32_t m_at;
};

HierarchyQuery::HierarchyQuery(const Hierarchy& hierarchy)
    : m_hierarchy(&hierarchy),
      m_sweep(hierarchy.node_count(), infinite_weight),
      m_mark(hierarchy.node_count(), 0) {
    m_forward.labels.resize(hierarchy.node_count());
    m_backward.labels.resize(hierarchy.node_count());
}

void HierarchyQuery::mark_ancestors(std::uint32_t rank, std::vector<std::uint32_t>& ranks) {
    for (; rank != none && m_mark[rank] != m_collection; rank = m_hierarchy->parent(rank)) {
        m_mark[rank] = m_collection;
        ranks.push_back(rank);
    }
}

/// Completes a list of starting ranks to the list of all their ancestors, rising.
void HierarchyQuery::collect_ancestors(std::vector<std::uint32_t>& ranks) {
    if (++m_collection == 0) {  // after 2^32 collections the numbers repeat
        std::fill(m_mark.begin(), m_mark.end(), 0);
        m_collection = 1;
    }
    const std::vector<std::uint32_t> starts(ranks);
    ranks.clear();
    for (const std::uint32_t start : starts)
        mark_ancestors(start, ranks);
    std::sort(ranks.begin(), ranks.end());
}

void HierarchyQuery::begin(Side& side, std::span<const WeightedNode> starts) {
    for (const std::uint32_t rank : side.touched)
        side.labels[rank] = {};
    side.touched.clear();
    side.ranks.clear();
    side.single = starts.size() == 1 ? m_hierarchy->rank(starts[0].node) : none;
    for (const WeightedNode& s : starts) {
        const std::uint32_t rank = m_hierarchy->rank(s.node);
        Label& label = side.labels[rank];
        if (label.weight == infinite_weight)
            side.touched.push_back(rank);
        label.weight = std::min(label.weight, s.weight);
    }
    if (side.single == none) {
        side.ranks = side.touched;
        collect_ancestors(side.ranks);
    }
}

void HierarchyQuery::relax(Side& side, std::span<const RouteWeight> weights, std::uint32_t rank,
                           RouteWeight bound) const {
    const RouteWeight so_far = side.labels[rank].weight;
    for (std::uint32_t arc = m_hierarchy->up_begin(rank); arc < m_hierarchy->up_end(rank); ++arc) {
        const RouteWeight weight = add_weights(so_far, weights[arc]);
        Label& label = side.labels[m_hierarchy->up_head(arc)];
        // What is not better than a way already found cannot become part of a better one.
        if (weight >= label.weight || weight >= bound)
            continue;
        if (label.weight == infinite_weight)
            side.touched.push_back(m_hierarchy->up_head(arc));
        label = {weight, rank, arc};
    }
}

RouteWeight HierarchyQuery::run(const HierarchyMetric& metric, std::span<const WeightedNode> sources,
                                std::span<const WeightedNode> targets) {
    if (&metric.hierarchy() != m_hierarchy)
        throw Error(ErrorKind::internal, "a metric of another hierarchy");
    m_metric = &metric;
    m_meeting = none;
    begin(m_forward, sources);
    begin(m_backward, targets);
    Walk forward(*m_hierarchy, m_forward), backward(*m_hierarchy, m_backward);
    RouteWeight best = infinite_weight;
    for (;;) {
        const std::uint32_t f = forward.at(), b = backward.at(), x = std::min(f, b);
        if (x == none)
            return best;
        if (f == b) {
            const RouteWeight through = add_weights(m_forward.labels[x].weight, m_backward.labels[x].weight);
            if (through < best) {
                best = through;
                m_meeting = x;
            }
        }
        if (f == x) {
            if (m_forward.labels[x].weight < best)
                relax(m_forward, metric.up(), x, best);
            forward.next();
        }
        if (b == x) {
            if (m_backward.labels[x].weight < best)
                relax(m_backward, metric.down(), x, best);
            backward.next();
        }
    }
}

NodeId HierarchyQuery::first_node() const {
    std::uint32_t x = m_meeting;
    while (m_forward.labels[x].tail != none)
        x = m_forward.labels[x].tail;
    return m_hierarchy->node(x);
}

NodeId HierarchyQuery::last_node() const {
    std::uint32_t x = m_meeting;
    while (m_backward.labels[x].tail != none)
        x = m_backward.labels[x].tail;
    return m_hierarchy->node(x);
}

std::vector<ArcId> HierarchyQuery::path() const {
    std::vector<std::uint32_t> climb;
    for (std::uint32_t x = m_meeting; m_forward.labels[x].tail != none; x = m_forward.labels[x].tail)
        climb.push_back(x);
    std::vector<ArcId> path;
    for (auto x = climb.rbegin(); x != climb.rend(); ++x)
        unpack_arc(*m_metric, m_forward.labels[*x].tail, *x, m_forward.labels[*x].arc, path);
    for (std::uint32_t x = m_meeting; m_backward.labels[x].tail != none; x = m_backward.labels[x].tail)
        unpack_arc(*m_metric, x, m_backward.labels[x].tail, m_backward.labels[x].arc, path);
    return path;
}

/// Leaves the weights of all ancestors of the starts, reached from below, in m_sweep.
void HierarchyQuery::climb(std::span<const RouteWeight> weights, std::span<const WeightedNode> starts) {
    m_up_ranks.clear();
    for (const WeightedNode& s : starts) {
        const std::uint32_t rank = m_hierarchy->rank(s.node);
        m_sweep[rank] = std::min(m_sweep[rank], s.weight);
        m_up_ranks.push_back(rank);
    }
    collect_ancestors(m_up_ranks);
    for (const std::uint32_t x : m_up_ranks) {
        const RouteWeight so_far = m_sweep[x];
        if (so_far == infinite_weight)
            continue;
        for (std::uint32_t arc = m_hierarchy->up_begin(x); arc < m_hierarchy->up_end(x); ++arc) {
            RouteWeight& weight = m_sweep[m_hierarchy->up_head(arc)];
            weight = std::min(weight, add_weights(so_far, weights[arc]));
        }
    }
}

void HierarchyQuery::descend(std::span<const RouteWeight> weights, std::uint32_t rank) {
    RouteWeight best = m_sweep[rank];
    for (std::uint32_t arc = m_hierarchy->up_begin(rank); arc < m_hierarchy->up_end(rank); ++arc)
        best = std::min(best, add_weights(m_sweep[m_hierarchy->up_head(arc)], weights[arc]));
    m_sweep[rank] = best;
}

void HierarchyQuery::sweep_all(std::span<const RouteWeight> climbing, std::span<const RouteWeight> descending,
                               std::span<const WeightedNode> starts, std::span<RouteWeight> out) {
    if (out.size() != m_sweep.size())
        throw Error(ErrorKind::internal, "one place a node is needed for the weights");
    climb(climbing, starts);
    for (std::uint32_t x = m_hierarchy->node_count(); x-- > 0;)
        descend(descending, x);
    for (std::uint32_t n = 0; n < out.size(); ++n)
        out[n] = m_sweep[m_hierarchy->rank(NodeId{n})];
    std::fill(m_sweep.begin(), m_sweep.end(), infinite_weight);
}

void HierarchyQuery::sweep_some(std::span<const RouteWeight> climbing,
                                std::span<const RouteWeight> descending, std::span<const WeightedNode> starts,
                                std::span<const NodeId> nodes, std::span<RouteWeight> out) {
    if (out.size() != nodes.size())
        throw Error(ErrorKind::internal, "one place a node is needed for the weights");
    climb(climbing, starts);
    m_down_ranks.clear();
    for (const NodeId n : nodes)
        m_down_ranks.push_back(m_hierarchy->rank(n));
    collect_ancestors(m_down_ranks);
    for (auto x = m_down_ranks.rbegin(); x != m_down_ranks.rend(); ++x)
        descend(descending, *x);
    for (std::size_t i = 0; i < nodes.size(); ++i)
        out[i] = m_sweep[m_hierarchy->rank(nodes[i])];
    for (const auto* ranks : {&m_up_ranks, &m_down_ranks})
        for (const std::uint32_t x : *ranks)
            m_sweep[x] = infinite_weight;
}

void HierarchyQuery::all_from(const HierarchyMetric& metric, std::span<const WeightedNode> sources,
                              std::span<RouteWeight> out) {
    sweep_all(metric.up(), metric.down(), sources, out);
}
void HierarchyQuery::all_to(const HierarchyMetric& metric, std::span<const WeightedNode> targets,
                            std::span<RouteWeight> out) {
    sweep_all(metric.down(), metric.up(), targets, out);
}
void HierarchyQuery::some_from(const HierarchyMetric& metric, std::span<const WeightedNode> sources,
                               std::span<const NodeId> nodes, std::span<RouteWeight> out) {
    sweep_some(metric.up(), metric.down(), sources, nodes, out);
}
void HierarchyQuery::some_to(const HierarchyMetric& metric, std::span<const WeightedNode> targets,
                             std::span<const NodeId> nodes, std::span<RouteWeight> out) {
    sweep_some(metric.down(), metric.up(), targets, nodes, out);
}

}  // namespace loamway
