// SPDX-License-Identifier: Apache-2.0
#include "route_ends.h"

#include <queue>

#include "loamway/base/error.h"
#include "states.h"

namespace loamway {

std::uint64_t pack_checked(std::uint64_t primary, std::uint64_t length) {
    if (primary >= no_state || length >= no_state)
        throw Error(ErrorKind::limit, "a route through this region is too long to be added up",
                    "use a smaller region");
    return (primary << 32) | length;
}

RouteEnds::RouteEnds(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to) {
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

std::uint64_t weight_of(const RoadGraph& graph, std::span<const std::uint32_t> primary, const RoutePiece& p) {
    const std::uint32_t length = graph.arc(p.arc).length_dm;
    return pack_checked(weight_between(primary[p.arc.index()], length, p.from_dm, p.to_dm), p.length_dm());
}

std::uint64_t weight_of(const RoadGraph& graph, std::span<const std::uint32_t> primary, ArcId a) {
    return pack_checked(primary[a.index()], graph.arc(a).length_dm);
}

namespace {

using Entry = std::pair<std::uint64_t, std::uint32_t>;
using Queue = std::priority_queue<Entry, std::vector<Entry>, std::greater<>>;

}  // namespace

// Least weight still to come after each state, for the capped search. States farther than the cap are left out.
std::vector<std::uint64_t> sweep_back(const VehicleRoads& roads, const RouteEnds& ends,
                                      std::span<const std::uint32_t> primary, const SweepLimits& limits,
                                      const TurnPrices& turns) {
    const RoadGraph& graph = roads.graph();
    const States states(roads);
    std::vector<std::uint64_t> to_go(states.count(), unreached_weight);
    Queue queue;
    const auto reach = [&](std::uint32_t state, std::uint64_t value) {
        const bool inside = primary_of(value) <= limits.primary && length_of(value) <= limits.length_dm &&
                            (limits.within == nullptr || (*limits.within)[state] != unreached_weight);
        if (inside && value < to_go[state]) {
            to_go[state] = value;
            queue.emplace(value, state);
        }
    };
    for (const RoutePiece& t : ends.targets) {
        const NodeId at = graph.tail(t.arc);
        for (std::uint32_t a = graph.arc_begin(at); a < graph.arc_end(at); ++a) {
            const ArcId in = graph.twin(ArcId{a});
            if (!roads.open(in))
                continue;
            states.for_each_state_of(in, [&](std::uint32_t state) {
                if (states.follow(state, t.arc))
                    reach(state, add_checked(weight_of(graph, primary, t),
                                             turn_weight(graph, turns, whole_arc(graph, in), t)));
            });
        }
    }
    while (!queue.empty()) {
        const auto [value, state] = queue.top();
        queue.pop();
        if (value != to_go[state])
            continue;
        const RoutePiece here = whole_arc(graph, states.arc(state));
        const std::uint64_t through = add_checked(value, weight_of(graph, primary, here));
        states.for_each_previous(state, [&](std::uint32_t before) {
            reach(before,
                  add_checked(through, turn_weight(graph, turns, whole_arc(graph, states.arc(before)), here)));
        });
    }
    return to_go;
}

}  // namespace loamway
