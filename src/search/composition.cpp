// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/composition.h"

#include <algorithm>
#include <tuple>

#include "loamway/base/error.h"

namespace loamway {

namespace {

constexpr std::uint32_t none = Hierarchy::none;

std::optional<std::uint32_t> place_number(std::uint32_t label) {
    return label == 0 ? std::optional<std::uint32_t>() : label - 1;
}

RouteWeight least(std::span<const RouteWeight> to_node, std::span<const WeightedNode> nodes) {
    RouteWeight best = infinite_weight;
    for (std::size_t i = 0; i < nodes.size(); ++i)
        best = std::min(best, add_weights(to_node[i], nodes[i].weight));
    return best;
}

}  // namespace

/// The best hauled way so far; no total above `bound` is of use.
struct CompositionFinder::Best {
    RouteWeight bound;
    RouteWeight total = infinite_weight;
    std::uint32_t load = 0, unload = 0;
};

CompositionFinder::CompositionFinder(const Hierarchy& hierarchy)
    : m_hierarchy(&hierarchy), m_query(hierarchy) {
    for (Side* side : {&m_loaded, &m_unloaded}) {
        side->labels.resize(hierarchy.node_count());
        side->mark.assign(hierarchy.node_count(), 0);
    }
}

void CompositionFinder::start(Side& side, NodeId node, Label label) {
    if (label.weight == infinite_weight)
        return;
    std::uint32_t rank = m_hierarchy->rank(node);
    side.labels[rank] = std::min(side.labels[rank], label);
    for (; rank != none && side.mark[rank] != m_now; rank = m_hierarchy->parent(rank)) {
        side.mark[rank] = m_now;
        side.ranks.push_back(rank);
    }
}

void CompositionFinder::climb(Side& side, std::span<const RouteWeight> weights, std::uint32_t rank,
                              RouteWeight bound) const {
    const Label here = side.labels[rank];
    if (here.weight > bound)
        return;
    for (std::uint32_t arc = m_hierarchy->up_begin(rank); arc < m_hierarchy->up_end(rank); ++arc) {
        const Label there{add_weights(here.weight, weights[arc]), here.place};
        if (there.weight > bound)
            continue;
        Label& known = side.labels[m_hierarchy->up_head(arc)];
        known = std::min(known, there);
    }
}

// As HierarchyQuery::run, but equal sums stay in the running until the places decide between them.
void CompositionFinder::meet(const HierarchyMetric& hauling, Best& best) {
    for (Side* side : {&m_loaded, &m_unloaded})
        std::sort(side->ranks.begin(), side->ranks.end());
    const auto at = [](const Side& side, std::size_t i) {
        return i < side.ranks.size() ? side.ranks[i] : none;
    };
    for (std::size_t f = 0, b = 0;;) {
        const std::uint32_t x = std::min(at(m_loaded, f), at(m_unloaded, b));
        if (x == none)
            break;
        if (at(m_loaded, f) == at(m_unloaded, b)) {
            const Label &in = m_loaded.labels[x], &out = m_unloaded.labels[x];
            const RouteWeight total = add_weights(in.weight, out.weight);
            if (total <= best.bound &&
                std::tuple(total, in.place, out.place) < std::tuple(best.total, best.load, best.unload)) {
                best = {total, total, in.place, out.place};
            }
        }
        if (at(m_loaded, f) == x) {
            climb(m_loaded, hauling.up(), x, best.bound);
            ++f;
        }
        if (at(m_unloaded, b) == x) {
            climb(m_unloaded, hauling.down(), x, best.bound);
            ++b;
        }
    }
    for (Side* side : {&m_loaded, &m_unloaded}) {
        for (const std::uint32_t rank : side->ranks)
            side->labels[rank] = {};
        side->ranks.clear();
    }
}

std::optional<Composition> CompositionFinder::find(const CompositionQuestion& q,
                                                   const HierarchyMetric& driving,
                                                   const HierarchyMetric& hauling) {
    if (&driving.hierarchy() != m_hierarchy || &hauling.hierarchy() != m_hierarchy)
        throw Error(ErrorKind::internal, "a metric of another hierarchy");
    const std::size_t count = q.places.size();
    m_nodes.clear();
    for (const TransferPlace& p : q.places)
        m_nodes.push_back(p.node);
    m_from_place.resize(count);
    m_query.some_to(driving, q.to, m_nodes, m_from_place);
    for (const WeightedNode& t : q.to)
        m_nodes.push_back(t.node);
    m_to_place.resize(m_nodes.size());
    m_query.some_from(driving, q.from, m_nodes, m_to_place);

    const RouteWeight driven =
        q.must_haul ? infinite_weight : std::min(q.direct, least(std::span(m_to_place).subspan(count), q.to));
    Best best{driven - 1};  // infinite - 1 when it cannot be driven
    if (driven > 0) {
        if (++m_now == 0) {  // after 2^32 questions the numbers repeat
            for (Side* side : {&m_loaded, &m_unloaded})
                std::fill(side->mark.begin(), side->mark.end(), 0);
            m_now = 1;
        }
        for (std::uint32_t i = 0; i < count; ++i) {
            start(m_loaded, q.places[i].node, {add_weights(m_to_place[i], q.places[i].load), i + 1});
            start(m_unloaded, q.places[i].node, {add_weights(m_from_place[i], q.places[i].unload), i + 1});
        }
        for (const WeightedNode& n : q.haul_from)
            start(m_loaded, n.node, {n.weight, 0});
        for (const WeightedNode& n : q.haul_to)
            start(m_unloaded, n.node, {n.weight, 0});
        meet(hauling, best);
    }
    if (best.total == infinite_weight && driven == infinite_weight)
        return std::nullopt;
    Composition c;
    if (best.total == infinite_weight) {
        c.drive_before = c.total = driven;
        return c;
    }
    c.hauled = true;
    c.load = place_number(best.load);
    c.unload = place_number(best.unload);
    c.total = c.haul = best.total;
    if (c.load) {
        c.drive_before = m_to_place[*c.load];
        c.haul -= c.drive_before + q.places[*c.load].load;
    }
    if (c.unload) {
        c.drive_after = m_from_place[*c.unload];
        c.haul -= c.drive_after + q.places[*c.unload].unload;
    }
    return c;
}

}  // namespace loamway
