// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/route.h"

#include <algorithm>
#include <queue>

#include "loamway/base/error.h"
#include "states.h"

namespace loamway {

namespace {

constexpr std::uint64_t unreached = std::numeric_limits<std::uint64_t>::max();
constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

// Weight and length in one number: comparing it compares weight first.
std::uint64_t pack(std::uint64_t primary, std::uint64_t length) {
    if (primary >= none || length >= none)
        throw Error(ErrorKind::limit, "a route through this region is too long to be added up",
                    "use a smaller region");
    return (primary << 32) | length;
}
std::uint64_t primary_of(std::uint64_t packed) { return packed >> 32; }
std::uint64_t length_of(std::uint64_t packed) { return packed & 0xffffffffu; }
std::uint64_t add(std::uint64_t a, std::uint64_t b) {
    return pack(primary_of(a) + primary_of(b), length_of(a) + length_of(b));
}

using Entry = std::pair<std::uint64_t, std::uint32_t>;
using Queue = std::priority_queue<Entry, std::vector<Entry>, std::greater<>>;

}  // namespace

std::uint64_t weight_between(std::uint32_t weight, std::uint32_t length_dm, std::uint32_t from_dm,
                             std::uint32_t to_dm) {
    if (length_dm == 0)
        return weight;
    return std::uint64_t{weight} * to_dm / length_dm - std::uint64_t{weight} * from_dm / length_dm;
}

// Where a query begins and ends: the stretch of each start arc that is driven, and of each arc at the end.
struct RouteFinder::Ends {
    std::vector<RoutePiece> starts;
    std::vector<RoutePiece> targets;
    std::optional<RoutePiece> direct;  // both on one arc, in driving order

    Ends(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to) {
        const RoadGraph& graph = roads.graph();
        for (const bool reversed : {false, true}) {
            const ArcId a = graph.arc_of(from.edge, reversed);
            const std::uint32_t length = graph.arc(a).length_dm;
            const std::uint32_t at = reversed ? length - from.offset_dm : from.offset_dm;
            if (roads.open(a))
                starts.push_back({a, at, length});
            const ArcId t = graph.arc_of(to.edge, reversed);
            const std::uint32_t t_length = graph.arc(t).length_dm;
            const std::uint32_t t_at = reversed ? t_length - to.offset_dm : to.offset_dm;
            if (!roads.open(t))
                continue;
            targets.push_back({t, 0, t_at});
            if (from.edge == to.edge && at <= t_at && (!direct || t_at - at < direct->length_dm()))
                direct = RoutePiece{t, at, t_at};
        }
    }
};

namespace {

std::uint64_t weight_of(const RoadGraph& graph, std::span<const std::uint32_t> primary, const RoutePiece& p) {
    const std::uint32_t length = graph.arc(p.arc).length_dm;
    return pack(weight_between(primary[p.arc.index()], length, p.from_dm, p.to_dm), p.length_dm());
}

std::uint64_t weight_of(const RoadGraph& graph, std::span<const std::uint32_t> primary, ArcId a) {
    return pack(primary[a.index()], graph.arc(a).length_dm);
}

// The best way from the end of a state straight onto a target stretch.
template <class Ends>
std::pair<std::uint64_t, const RoutePiece*> finish(const States& states, const RoadGraph& graph,
                                                   std::span<const std::uint32_t> primary, const Ends& ends,
                                                   std::uint32_t state) {
    std::pair<std::uint64_t, const RoutePiece*> best{unreached, nullptr};
    const NodeId at = graph.head(states.arc(state));
    for (const RoutePiece& t : ends.targets)
        if (graph.tail(t.arc) == at && states.follow(state, t.arc))
            if (const std::uint64_t w = weight_of(graph, primary, t); w < best.first)
                best = {w, &t};
    return best;
}

Route make_route(const RoadGraph& graph, std::uint64_t packed, std::vector<RoutePiece> pieces) {
    Route r;
    r.primary = primary_of(packed);
    r.length_dm = length_of(packed);
    // Stretches of no length at either end add nothing but a turn nobody drives.
    while (pieces.size() > 1 && pieces.back().length_dm() == 0 && graph.arc(pieces.back().arc).length_dm > 0)
        pieces.pop_back();
    std::size_t skip = 0;
    while (pieces.size() - skip > 1 && pieces[skip].length_dm() == 0 &&
           graph.arc(pieces[skip].arc).length_dm > 0)
        ++skip;
    r.pieces.assign(pieces.begin() + static_cast<std::ptrdiff_t>(skip), pieces.end());
    return r;
}

}  // namespace

RouteFinder::RouteFinder(const VehicleRoads& roads)
    : m_roads(&roads),
      m_best(2 * roads.graph().arc_count()),
      m_from(2 * roads.graph().arc_count()),
      m_stamp(2 * roads.graph().arc_count(), 0) {}

void RouteFinder::begin_query() {
    if (++m_now == 0) {  // after 2^32 queries the stamps repeat
        std::fill(m_stamp.begin(), m_stamp.end(), 0);
        m_now = 1;
    }
    m_effort = 0;
}

std::optional<Route> RouteFinder::find(const RoadPoint& from, const RoadPoint& to,
                                       std::span<const std::uint32_t> primary, std::uint64_t cap_dm) {
    const Ends ends(*m_roads, from, to);
    std::optional<Route> route = find_uncapped(ends, primary);
    if (route && route->length_dm > cap_dm)
        route = find_capped(ends, primary, cap_dm);
    return route;
}

// Dijkstra's algorithm over states.
std::optional<Route> RouteFinder::find_uncapped(const Ends& ends, std::span<const std::uint32_t> primary) {
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
        } else if (value == m_best[state] && before != none && m_from[state] != none &&
                   before < m_from[state]) {
            m_from[state] = before;
        }
    };
    for (const RoutePiece& s : ends.starts)
        reach(states.start_state(s.arc), weight_of(graph, primary, s), none);

    std::uint64_t best = unreached;
    std::uint32_t last = none;
    const RoutePiece* end = nullptr;
    if (ends.direct)
        best = weight_of(graph, primary, *ends.direct);
    while (!queue.empty() && queue.top().first < best) {
        const auto [value, state] = queue.top();
        queue.pop();
        if (value != m_best[state])
            continue;
        ++m_effort;
        const auto [rest, target] = finish(states, graph, primary, ends, state);
        if (target != nullptr && add(value, rest) < best) {
            best = add(value, rest);
            last = state;
            end = target;
        }
        states.for_each_next(state, [&, v = value, s = state](std::uint32_t next) {
            reach(next, add(v, weight_of(graph, primary, states.arc(next))), s);
        });
    }
    if (best == unreached)
        return std::nullopt;
    std::vector<RoutePiece> pieces;
    if (end == nullptr)
        return make_route(graph, best, {*ends.direct});
    pieces.push_back(*end);
    for (std::uint32_t s = last; s != none; s = m_from[s]) {
        const ArcId a = states.arc(s);
        RoutePiece piece{a, 0, graph.arc(a).length_dm};
        if (m_from[s] == none)
            piece = *std::find_if(ends.starts.begin(), ends.starts.end(),
                                  [&](const RoutePiece& p) { return p.arc == a; });
        pieces.push_back(piece);
    }
    std::reverse(pieces.begin(), pieces.end());
    return make_route(graph, best, std::move(pieces));
}

// Least weight still to come after each state, for the capped search. States farther than the cap are left out.
std::vector<std::uint64_t> RouteFinder::sweep_back(const Ends& ends, std::span<const std::uint32_t> primary,
                                                   std::uint64_t cap_dm) const {
    const RoadGraph& graph = m_roads->graph();
    const States states(*m_roads);
    std::vector<std::uint64_t> to_go(states.count(), unreached);
    Queue queue;
    const auto reach = [&](std::uint32_t state, std::uint64_t value) {
        if (value < to_go[state] && length_of(value) <= cap_dm) {
            to_go[state] = value;
            queue.emplace(value, state);
        }
    };
    for (const RoutePiece& t : ends.targets) {
        const NodeId at = graph.tail(t.arc);
        for (std::uint32_t a = graph.arc_begin(at); a < graph.arc_end(at); ++a) {
            const ArcId in = graph.twin(ArcId{a});
            if (!m_roads->open(in))
                continue;
            for (const std::uint32_t state : {in.value(), in.value() + states.count() / 2})
                if ((state == in.value() || m_roads->ends_only(in)) && states.follow(state, t.arc))
                    reach(state, weight_of(graph, primary, t));
        }
    }
    while (!queue.empty()) {
        const auto [value, state] = queue.top();
        queue.pop();
        if (value != to_go[state])
            continue;
        const std::uint64_t through = add(value, weight_of(graph, primary, states.arc(state)));
        states.for_each_previous(state, [&](std::uint32_t before) { reach(before, through); });
    }
    return to_go;
}

// Labels with weight and length for each state, in the order of the least weight they can end with. Both
// bounds are exact distances to the end, so the first finished label is the best within the cap.
std::optional<Route> RouteFinder::find_capped(const Ends& ends, std::span<const std::uint32_t> primary,
                                              std::uint64_t cap_dm) {
    const RoadGraph& graph = m_roads->graph();
    const States states(*m_roads);
    // Bounding by length alone first: its sweep tells which states can matter at all.
    std::vector<std::uint32_t> lengths(graph.arc_count());
    for (std::size_t a = 0; a < lengths.size(); ++a)
        lengths[a] = graph.arc(ArcId{a}).length_dm;
    const std::vector<std::uint64_t> by_length = sweep_back(ends, lengths, cap_dm);
    const std::vector<std::uint64_t> by_weight = sweep_back(ends, primary, none - 1);

    struct Label {
        std::uint64_t value;  // packed, so far
        std::uint32_t state;
        std::uint32_t before;  // label
        const RoutePiece* end;
    };
    std::vector<Label> labels;
    std::vector<std::uint64_t> shortest(states.count(), unreached);  // of the labels taken up, by state
    using Item = std::pair<std::uint64_t, std::uint32_t>;  // bound, label
    std::priority_queue<Item, std::vector<Item>, std::greater<>> queue;
    m_effort = 0;
    const auto propose = [&](std::uint32_t state, std::uint64_t value, std::uint32_t before) {
        if (by_length[state] == unreached || by_weight[state] == unreached)
            return;
        const std::uint64_t length = length_of(value) + length_of(by_length[state]);
        if (length > cap_dm || length_of(value) >= shortest[state])
            return;
        queue.emplace(pack(primary_of(value) + primary_of(by_weight[state]), length),
                      static_cast<std::uint32_t>(labels.size()));
        labels.push_back({value, state, before, nullptr});
    };
    const auto finish_label = [&](std::uint64_t value, std::uint32_t before, const RoutePiece* end) {
        if (length_of(value) > cap_dm)
            return;
        queue.emplace(value, static_cast<std::uint32_t>(labels.size()));
        labels.push_back({value, none, before, end});
    };
    if (ends.direct)
        finish_label(weight_of(graph, primary, *ends.direct), none, &*ends.direct);
    for (const RoutePiece& s : ends.starts)
        propose(states.start_state(s.arc), weight_of(graph, primary, s), none);

    while (!queue.empty()) {
        const std::uint32_t at = queue.top().second;
        queue.pop();
        const Label label = labels[at];
        if (label.end != nullptr) {
            std::vector<RoutePiece> pieces{*label.end};
            for (std::uint32_t l = label.before; l != none; l = labels[l].before) {
                const ArcId a = states.arc(labels[l].state);
                RoutePiece piece{a, 0, graph.arc(a).length_dm};
                if (labels[l].before == none)
                    piece = *std::find_if(ends.starts.begin(), ends.starts.end(),
                                          [&](const RoutePiece& p) { return p.arc == a; });
                pieces.push_back(piece);
            }
            std::reverse(pieces.begin(), pieces.end());
            return make_route(graph, label.value, std::move(pieces));
        }
        if (length_of(label.value) >= shortest[label.state])
            continue;
        shortest[label.state] = length_of(label.value);
        ++m_effort;
        for (const RoutePiece& t : ends.targets)
            if (graph.tail(t.arc) == graph.head(states.arc(label.state)) && states.follow(label.state, t.arc))
                finish_label(add(label.value, weight_of(graph, primary, t)), at, &t);
        states.for_each_next(label.state, [&](std::uint32_t next) {
            propose(next, add(label.value, weight_of(graph, primary, states.arc(next))), at);
        });
    }
    return std::nullopt;
}

}  // namespace loamway
