// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_ROUTE_H
#define LOAMWAY_SEARCH_ROUTE_H

// Exact routes for one vehicle between two points on roads.
//
// A route minimises a primary weight, given for each arc and, where wanted, each turn as a whole number, and
// among equals its length in decimetres; what is still equal is decided by arc number, so the answer never
// depends on chance. Searching runs over arcs, not nodes: turn restrictions, U-turns only at ends of roads,
// and stretches that may be used only at either end of a move are all obeyed. The sum of primary weights
// along a route must stay below 2^32 (hard surface: 2,147 km); beyond, a limit Error.

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "loamway/graph/snap.h"
#include "loamway/graph/vehicle_roads.h"
#include "loamway/search/turn_prices.h"

namespace loamway {

/// A stretch of one arc in the direction of travel; from_dm <= to_dm <= the arc's length.
struct RoutePiece {
    ArcId arc;
    std::uint32_t from_dm = 0;
    std::uint32_t to_dm = 0;
    friend bool operator==(const RoutePiece&, const RoutePiece&) = default;
    [[nodiscard]] std::uint32_t length_dm() const { return to_dm - from_dm; }
};

struct Route {
    std::vector<RoutePiece> pieces;
    std::uint64_t primary = 0;  // turns included
    std::uint64_t length_dm = 0;
};

/// Share of an arc's weight that falls on a stretch of it; shares of adjoining stretches add up exactly.
[[nodiscard]] std::uint64_t weight_between(std::uint32_t weight, std::uint32_t length_dm,
                                           std::uint32_t from_dm, std::uint32_t to_dm);

/// Sum of the prices of the turns between the pieces.
[[nodiscard]] std::uint64_t turns_along(const RoadGraph& graph, const TurnPrices& turns,
                                        std::span<const RoutePiece> pieces);

constexpr std::uint64_t no_cap = std::numeric_limits<std::uint64_t>::max();

struct RouteEnds;

/// Answers queries one after another and reuses its memory; one object a thread. Keeps a reference to the
/// roads. `primary` must have one weight an arc.
class RouteFinder {
public:
    explicit RouteFinder(const VehicleRoads& roads);

    /// The best route no longer than `cap_dm`, or nothing. With a cap that binds, the search keeps every
    /// trade-off between weight and length it may still need and stays exact.
    [[nodiscard]] std::optional<Route> find(const RoadPoint& from, const RoadPoint& to,
                                            std::span<const std::uint32_t> primary,
                                            std::uint64_t cap_dm = no_cap, const TurnPrices& turns = {});

private:
    [[nodiscard]] std::optional<Route> find_uncapped(const RouteEnds& ends,
                                                     std::span<const std::uint32_t> primary,
                                                     const TurnPrices& turns);
    void begin_query();
    [[nodiscard]] bool seen(std::uint32_t state) const { return m_stamp[state] == m_now; }

    const VehicleRoads* m_roads;
    std::vector<std::uint64_t> m_best;   // (primary << 32 | length) by state
    std::vector<std::uint32_t> m_from;   // state before, by state
    std::vector<std::uint32_t> m_stamp;  // query that wrote m_best and m_from
    std::uint32_t m_now = 0;
};

}  // namespace loamway

#endif
