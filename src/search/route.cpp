// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/route.h"

#include <algorithm>
#include <queue>

#include "assemble_route.h"
#include "beeline.h"
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
        route = find_capped(ends, primary, cap_dm, turns);
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

// Labels with weight and length for each state, in the order of the least weight they can end with. Both
// bounds are exact distances to the end, so the first finished label is the best within the cap.
std::optional<Route> RouteFinder::find_capped(const RouteEnds& ends, std::span<const std::uint32_t> primary,
                                              std::uint64_t cap_dm, const TurnPrices& turns) {
    const RoadGraph& graph = m_roads->graph();
    const States states(*m_roads);
    // Bounding by length alone first: its sweep tells which states can matter at all.
    std::vector<std::uint32_t> lengths(graph.arc_count());
    for (std::size_t a = 0; a < lengths.size(); ++a)
        lengths[a] = graph.arc(ArcId{a}).length_dm;
    if (ends.starts.empty())
        return std::nullopt;
    const Beeline beeline(graph, ends);
    const FarArray<std::uint64_t> by_length =
        sweep_back(*m_roads, ends, lengths, {.length_dm = cap_dm, .start = &beeline});
    const FarArray<std::uint64_t> by_weight =
        sweep_back(*m_roads, ends, primary, {.within = &by_length}, turns);

    struct Label {
        std::uint64_t value;  // packed, so far
        std::uint32_t state;
        std::uint32_t before;  // label
        const RoutePiece* end;
    };
    std::vector<Label> labels;
    FarArray<std::uint64_t> shortest(states.count());      // of the labels taken up, by state
    using Item = std::pair<std::uint64_t, std::uint32_t>;  // bound, label
    std::priority_queue<Item, std::vector<Item>, std::greater<>> queue;
    const auto propose = [&](std::uint32_t state, std::uint64_t value, std::uint32_t before) {
        if (by_length[state] == unreached_weight || by_weight[state] == unreached_weight)
            return;
        const std::uint64_t length = length_of(value) + length_of(by_length[state]);
        if (length > cap_dm || length_of(value) >= shortest[state])
            return;
        queue.emplace(pack_checked(primary_of(value) + primary_of(by_weight[state]), length),
                      static_cast<std::uint32_t>(labels.size()));
        labels.push_back({value, state, before, nullptr});
    };
    const auto finish_label = [&](std::uint64_t value, std::uint32_t before, const RoutePiece* end) {
        if (length_of(value) > cap_dm)
            return;
        queue.emplace(value, static_cast<std::uint32_t>(labels.size()));
        labels.push_back({value, no_state, before, end});
    };
    const auto go_on = [&](std::uint32_t number, const RoutePiece& driven) {
        const Label label = labels[number];
        for (const RoutePiece& t : ends.targets)
            if (graph.tail(t.arc) == graph.head(states.arc(label.state)) && states.follow(label.state, t.arc))
                finish_label(add_checked(label.value, add_checked(weight_of(graph, primary, t),
                                                                  turn_weight(graph, turns, driven, t))),
                             number, &t);
        states.for_each_next(label.state, [&](std::uint32_t next) {
            const RoutePiece piece = whole_arc(graph, states.arc(next));
            const std::uint64_t step =
                add_checked(weight_of(graph, primary, piece), turn_weight(graph, turns, driven, piece));
            propose(next, add_checked(label.value, step), number);
        });
    };
    if (ends.direct)
        finish_label(weight_of(graph, primary, *ends.direct), no_state, &*ends.direct);
    for (const RoutePiece& s : ends.starts)
        if (turns.all_free() || is_driven(graph, s)) {
            propose(states.start_state(s.arc), weight_of(graph, primary, s), no_state);
        } else {
            labels.push_back({weight_of(graph, primary, s), states.start_state(s.arc), no_state, nullptr});
            go_on(static_cast<std::uint32_t>(labels.size() - 1), s);
        }

    while (!queue.empty()) {
        const std::uint32_t at = queue.top().second;
        queue.pop();
        const Label label = labels[at];
        if (label.end != nullptr) {
            std::vector<RoutePiece> pieces{*label.end};
            for (std::uint32_t l = label.before; l != no_state; l = labels[l].before) {
                const ArcId a = states.arc(labels[l].state);
                RoutePiece piece{a, 0, graph.arc(a).length_dm};
                if (labels[l].before == no_state)
                    piece = *std::find_if(ends.starts.begin(), ends.starts.end(),
                                          [&](const RoutePiece& p) { return p.arc == a; });
                pieces.push_back(piece);
            }
            std::reverse(pieces.begin(), pieces.end());
            return make_route(graph, label.value, std::move(pieces));
        }
        if (length_of(label.value) >= shortest[label.state])
            continue;
        shortest.set(label.state, length_of(label.value));
        go_on(at, whole_arc(graph, states.arc(label.state)));
    }
    return std::nullopt;
}

}  // namespace loamway
