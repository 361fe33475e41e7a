// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/route.h"

#include <algorithm>
#include <queue>

#include "assemble_route.h"
#include "capped_route.h"
#include "route_ends.h"
#include "states.h"

namespace loamway {

namespace {

using Entry = std::pair<std::uint64_t, std::uint32_t>;
using Queue = std::priority_queue<Entry, std::vector<Entry>, std::greater<>>;

}  // namespace

std::uint64_t weight_between(std::uint32_t weight, std::uint32_t length_dm, std::uint32_t from_dm,
                             std::uint32_t to_dm) {
    if (length_dm == 0)
        return weight;
    return std::uint64_t{weight} * to_dm / length_dm - std::uint64_t{weight} * from_dm / length_dm;
}

std::uint64_t turns_along(const RoadGraph& graph, const TurnPrices& turns,
                          std::span<const RoutePiece> pieces) {
    std::uint64_t sum = 0;
    for (std::size_t i = 1; i < pieces.size(); ++i)
        sum += primary_of(turn_weight(graph, turns, pieces[i - 1], pieces[i]));
    return sum;
}

RouteFinder::RouteFinder(const VehicleRoads& roads)
    : m_roads(&roads), m_best(States(roads).count()), m_from(m_best.size()), m_stamp(m_best.size(), 0) {}

void RouteFinder::begin_query() {
    if (++m_now == 0) {  // after 2^32 queries the stamps repeat
        std::fill(m_stamp.begin(), m_stamp.end(), 0);
        m_now = 1;
    }
}

std::optional<Route> RouteFinder::find(const RoadPoint& from, const RoadPoint& to,
                                       std::span<const std::uint32_t> primary, std::uint64_t cap_dm,
                                       const TurnPrices& turns) {
    const RouteEnds ends(*m_roads, from, to);
    std::optional<Route> route = find_uncapped(ends, primary, turns);
    if (route && route->length_dm > cap_dm)
        route = find_capped(*m_roads, ends, primary, cap_dm, turns);
    return route;
}

// Dijkstra's algorithm over states. A start that leaves nothing of its arc to drive is gone on from at once,
// without a turn; taken up again as a state, where its turns cost, it brings nothing better.
std::optional<Route> RouteFinder::find_uncapped(const RouteEnds& ends, std::span<const std::uint32_t> primary,
                                                const TurnPrices& turns) {
    const RoadGraph& graph = m_roads->graph();
    const States states(*m_roads);
    begin_query();
    Queue queue;
    const auto reach = [&](std::uint32_t state, std::uint64_t value, std::uint32_t before) {
        if (!seen(state) || value < m_best[state]) {
            m_stamp[state] = m_now;
            m_best[state] = value;
            m_from[state] = before;
            queue.emplace(value, state);
        } else if (value == m_best[state] && before != no_state && m_from[state] != no_state &&
                   before < m_from[state] && m_best[before] < value) {
            // Only from a smaller sum: around roads of no length the states before would form a ring.
            m_from[state] = before;
        }
    };
    std::uint64_t best = unreached_weight;
    std::uint32_t last = no_state;
    const RoutePiece* end = nullptr;
    if (ends.direct)
        best = weight_of(graph, primary, *ends.direct);
    const auto go_on = [&](std::uint32_t state, std::uint64_t value, const RoutePiece& driven) {
        const auto [rest, target] = finish(states, primary, turns, ends, state, driven);
        if (target != nullptr && add_checked(value, rest) < best) {
            best = add_checked(value, rest);
            last = state;
            end = target;
        }
        states.for_each_next(state, [&](std::uint32_t next) {
            const RoutePiece piece = whole_arc(graph, states.arc(next));
            const std::uint64_t step =
                add_checked(weight_of(graph, primary, piece), turn_weight(graph, turns, driven, piece));
            reach(next, add_checked(value, step), state);
        });
    };
    for (const RoutePiece& s : ends.starts)
        reach(states.start_state(s.arc), weight_of(graph, primary, s), no_state);
    for (const RoutePiece& s : ends.starts)
        if (!turns.all_free() && !is_driven(graph, s))
            go_on(states.start_state(s.arc), weight_of(graph, primary, s), s);
    while (!queue.empty() && queue.top().first < best) {
        const auto [value, state] = queue.top();
        queue.pop();
        if (value == m_best[state])
            go_on(state, value, whole_arc(graph, states.arc(state)));
    }
    if (best == unreached_weight)
        return std::nullopt;
    if (end == nullptr)
        return make_route(graph, best, {*ends.direct});
    return make_route(graph, best, pieces_to(graph, states, ends, m_from, last, *end));
}

}  // namespace loamway
