// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/fast_route.h"

#include <algorithm>
#include <functional>
#include <queue>
#include <tuple>

#include "assemble_route.h"
#include "route_ends.h"
#include "spread_ends.h"
#include "states.h"

namespace loamway {

std::vector<RouteWeight> through_weights(const VehicleRoads& roads, std::span<const std::uint32_t> primary) {
    const RoadGraph& graph = roads.graph();
    std::vector<RouteWeight> weights(graph.arc_count(), infinite_weight);
    for (std::size_t a = 0; a < weights.size(); ++a)
        if (roads.open(ArcId{a}) && !roads.ends_only(ArcId{a}))
            weights[a] = pack_weight(primary[a], graph.arc(ArcId{a}).length_dm);
    return weights;
}

struct FastRoute::Question {
    const RoadGraph& graph;
    const RouteEnds ends;
    std::span<const std::uint32_t> primary;
    const HierarchyMetric& metric;
    const TurnPrices& turns;

    [[nodiscard]] RouteWeight weight(ArcId a) const {
        return pack_weight(primary[a.index()], graph.arc(a).length_dm);
    }
};

FastRoute::FastRoute(const VehicleRoads& roads, const Hierarchy& hierarchy)
    : m_roads(&roads), m_query(hierarchy), m_distance_to(hierarchy) {}

RouteFinder& FastRoute::plain() {
    m_method = RouteMethod::plain;
    if (!m_plain)
        m_plain.emplace(*m_roads);
    return *m_plain;
}

std::optional<Route> FastRoute::find(const RoadPoint& from, const RoadPoint& to,
                                     std::span<const std::uint32_t> primary, const HierarchyMetric& metric,
                                     std::uint64_t cap_dm, const TurnPrices& turns) {
    const Question q{m_roads->graph(), RouteEnds(*m_roads, from, to), primary, metric, turns};
    m_effort = 0;
    std::optional<Route> route = find_without_cap(q);
    // That there is no way is the one answer not taken from here: sums too large look the same.
    if (!route || route->length_dm > cap_dm)
        return plain().find(from, to, primary, cap_dm, turns);
    return route;
}

std::optional<Route> FastRoute::find_without_cap(const Question& q) {
    spread_ends(*m_roads, q.ends, q.primary, false, m_before);
    spread_ends(*m_roads, q.ends, q.primary, true, m_after);
    for (auto [labels, nodes] : {std::pair{&m_before, &m_sources}, std::pair{&m_after, &m_targets}}) {
        nodes->clear();
        for (const auto& [node, label] : *labels)
            nodes->push_back({NodeId{node}, label.weight});
    }
    const RouteWeight direct =
        q.ends.direct ? weight_of(q.graph, q.primary, *q.ends.direct) : infinite_weight;
    const RouteWeight between = m_query.run(q.metric, m_sources, m_targets);
    if (direct != infinite_weight && direct <= between) {
        m_method = RouteMethod::direct;
        return make_route(q.graph, direct, {*q.ends.direct});
    }
    if (between == infinite_weight)
        return std::nullopt;
    std::vector<RoutePiece> pieces = pieces_between_nodes(q);
    // Whatever can be driven is a way to beat.
    std::optional<Route> known;
    if (direct != infinite_weight)
        known = make_route(q.graph, direct, {*q.ends.direct});
    if (can_be_driven(pieces)) {
        const std::uint64_t turns = turns_along(q.graph, q.turns, pieces);
        const RouteWeight whole = add_checked(between, pack_checked(turns, 0));
        if (whole < direct)
            known = make_route(q.graph, whole, std::move(pieces));
        if (turns == 0) {
            m_method = RouteMethod::hierarchy;
            return known;
        }
    }
    m_method = RouteMethod::guided;
    if (known)
        return guided(q, known, pack_checked(known->primary, known->length_dm));
    // Mostly a forbidden turn costs little; how much nobody knows.
    const RouteWeight little = add_weights(between, between / 8);
    auto route = guided(q, known, little);
    if (!route || pack_checked(route->primary, route->length_dm) > little)
        route = guided(q, known, infinite_weight);
    return route;
}

std::vector<RoutePiece> FastRoute::pieces_between_nodes(const Question& q) const {
    std::vector<RoutePiece> pieces;
    const auto whole = [&](ArcId a) { return RoutePiece{a, 0, q.graph.arc(a).length_dm}; };
    const auto follow = [&](const EndLabels& labels, NodeId node) {
        const EndLabel* at = &labels.at(node.value());
        for (; !at->arc.is_none(); at = &labels.at(at->node))
            pieces.push_back(whole(at->arc));
        return at->piece;
    };
    const std::uint32_t first = follow(m_before, m_query.first_node());
    pieces.push_back(q.ends.starts[first]);
    std::reverse(pieces.begin(), pieces.end());
    for (const ArcId a : m_query.path())
        pieces.push_back(whole(a));
    const std::uint32_t last = follow(m_after, m_query.last_node());
    pieces.push_back(q.ends.targets[last]);
    return pieces;
}

bool FastRoute::can_be_driven(const std::vector<RoutePiece>& pieces) const {
    const States states(*m_roads);
    std::uint32_t state = states.start_state(pieces.front().arc);
    for (std::size_t i = 1; i < pieces.size(); ++i) {
        const auto next = states.follow(state, pieces[i].arc);
        if (!next)
            return false;
        state = *next;
    }
    return true;
}

/// No more than what is still to come after a state. Before the open road nothing is known.
RouteWeight FastRoute::to_go(std::uint32_t state) {
    const States states(*m_roads);
    const ArcId a = states.arc(state);
    const NodeId at = m_roads->graph().head(a);
    if (states.at_end_side(state)) {
        const auto label = m_after.find(at.value());
        return label == m_after.end() ? infinite_weight : label->second.weight;
    }
    return m_roads->ends_only(a) ? 0 : m_distance_to(at);
}

// A* over states. The guide obeys the triangle inequality, so a state is done when it is first taken up.
// Finds the best of the routes that weigh no more than `at_most`; what it returns beyond that may not be the
// best.
std::optional<Route> FastRoute::guided(const Question& q, const std::optional<Route>& known,
                                       RouteWeight at_most) {
    RouteWeight best = known ? pack_checked(known->primary, known->length_dm) : infinite_weight;
    const States states(*m_roads);
    m_distance_to.set(q.metric, m_targets, at_most);
    if (m_best.empty()) {
        m_best.resize(states.count());
        m_from.resize(states.count());
        m_stamp.assign(states.count(), 0);
    }
    if (++m_now == 0) {  // after 2^32 queries the stamps repeat
        std::fill(m_stamp.begin(), m_stamp.end(), 0);
        m_now = 1;
    }
    using Entry = std::tuple<RouteWeight, RouteWeight, std::uint32_t>;  // with what is to come, so far, state
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    const auto reach = [&](std::uint32_t state, RouteWeight weight, std::uint32_t before) {
        if (m_stamp[state] == m_now && weight >= m_best[state])
            return;
        const RouteWeight whole = add_weights(weight, to_go(state));
        if (whole >= best)
            return;
        m_stamp[state] = m_now;
        m_best[state] = weight;
        m_from[state] = before;
        queue.emplace(whole, weight, state);
    };
    std::uint32_t last = no_state;
    const RoutePiece* end = nullptr;
    const auto go_on = [&](std::uint32_t state, RouteWeight weight, const RoutePiece& driven) {
        const auto [rest, target] = finish(states, q.primary, q.turns, q.ends, state, driven);
        if (target != nullptr && add_weights(weight, rest) < best) {
            best = add_weights(weight, rest);
            last = state;
            end = target;
        }
        states.for_each_next(state, [&](std::uint32_t next) {
            const ArcId a = states.arc(next);
            const RouteWeight turn = turn_weight(q.graph, q.turns, driven, whole_arc(q.graph, a));
            reach(next, add_weights(weight, add_weights(q.weight(a), turn)), state);
        });
    };
    for (const RoutePiece& s : q.ends.starts)
        reach(states.start_state(s.arc), weight_of(q.graph, q.primary, s), no_state);
    // As in RouteFinder: no turn joins a stretch of no length to the way.
    for (const RoutePiece& s : q.ends.starts)
        if (!q.turns.all_free() && !is_driven(q.graph, s) && m_stamp[states.start_state(s.arc)] == m_now)
            go_on(states.start_state(s.arc), weight_of(q.graph, q.primary, s), s);
    while (!queue.empty() && std::get<0>(queue.top()) < best) {
        const auto [whole, weight, state] = queue.top();
        queue.pop();
        if (weight != m_best[state])
            continue;
        ++m_effort;
        go_on(state, weight, whole_arc(q.graph, states.arc(state)));
    }
    if (end == nullptr)
        return known;
    return make_route(q.graph, best, pieces_to(q.graph, states, q.ends, m_from, last, *end));
}

}  // namespace loamway
