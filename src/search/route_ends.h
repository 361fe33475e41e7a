// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_ROUTE_ENDS_H
#define LOAMWAY_SEARCH_ROUTE_ENDS_H

// What every search over arcs needs: its two ends as stretches of arcs, weights of stretches, and exact
// distances from every state to the end.

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "loamway/search/route.h"
#include "loamway/search/weight.h"
#include "zeroed_array.h"

namespace loamway {

class Beeline;
class PlacesOn;

constexpr std::uint64_t unreached_weight = infinite_weight;
constexpr std::uint32_t no_state = std::numeric_limits<std::uint32_t>::max();

/// As pack_weight and add_weights, but a sum that leaves its 32 bits is a limit Error.
[[noreturn]] void too_long_to_add_up();
[[nodiscard]] inline std::uint64_t pack_checked(std::uint64_t primary, std::uint64_t length) {
    if (primary >= no_state || length >= no_state)
        too_long_to_add_up();
    return (primary << 32) | length;
}
[[nodiscard]] inline std::uint64_t add_checked(std::uint64_t a, std::uint64_t b) {
    return pack_checked(primary_of(a) + primary_of(b), length_of(a) + length_of(b));
}

/// Where a query begins and ends: the stretch of each start arc that is driven, and of each arc at the end.
struct RouteEnds {
    std::vector<RoutePiece> starts;
    std::vector<RoutePiece> targets;
    std::optional<RoutePiece> direct;  // both on one arc, in driving order

    RouteEnds(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to);
};

[[nodiscard]] std::uint64_t weight_of(const RoadGraph& graph, std::span<const std::uint32_t> primary,
                                      const RoutePiece& p);
[[nodiscard]] inline std::uint64_t weight_of(const RoadGraph& graph, std::span<const std::uint32_t> primary,
                                             ArcId a) {
    return pack_checked(primary[a.index()], graph.arc(a).length_dm);
}

/// Whether anything of a stretch is driven: one of no length counts only where its whole arc has none.
[[nodiscard]] inline bool is_driven(const RoadGraph& graph, const RoutePiece& p) {
    return p.length_dm() > 0 || graph.arc(p.arc).length_dm == 0;
}
[[nodiscard]] inline RoutePiece whole_arc(const RoadGraph& graph, ArcId a) {
    return {a, 0, graph.arc(a).length_dm};
}
/// Weight of going on from one stretch to the next.
[[nodiscard]] inline std::uint64_t turn_weight(const RoadGraph& graph, const TurnPrices& turns,
                                               const RoutePiece& in, const RoutePiece& out) {
    if (turns.all_free() || !is_driven(graph, in) || !is_driven(graph, out))
        return 0;
    return pack_checked(turns(in.arc, out.arc), 0);
}

/// What a backward sweep leaves out, so that it covers no more of a large map than a search can use.
struct SweepLimits {
    std::uint64_t primary = no_state - 1;
    std::uint64_t length_dm = no_state - 1;
    /// Only states that an earlier sweep reached: a way through any other state is of no use.
    const FarArray<std::uint64_t>* within = nullptr;
    /// Only states from which the length still to come and the beeline to them keep within `length_dm`.
    const Beeline* start = nullptr;
};

/// Least weight still to come after each state (States), unreached_weight where the end cannot be reached
/// within the limits. The state's arc counts as driven, however little of it a start leaves. Turning round at
/// `places` that have room for it counts as allowed.
[[nodiscard]] FarArray<std::uint64_t> sweep_back(const VehicleRoads& roads, const RouteEnds& ends,
                                                 std::span<const std::uint32_t> primary,
                                                 const SweepLimits& limits, const TurnPrices& turns = {},
                                                 const PlacesOn* places = nullptr);

}  // namespace loamway

#endif
