// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_FAST_ROUTE_H
#define LOAMWAY_SEARCH_FAST_ROUTE_H

// The routes of RouteFinder, found faster with a node hierarchy: the same weight and length for every
// question; of equally good routes it may choose another.
//
// First a search between nodes that knows nothing of turns. When its way can be driven as it is and no turn
// on it has a price, it is best. Otherwise a search over arcs, guided by exact distances between nodes, so
// that it leaves the best way between nodes only where a turn forces it to. Private ground at either end is
// searched apart, because only the ends of a move may lead over it.

#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "loamway/search/distance_to.h"
#include "loamway/search/hierarchy.h"
#include "loamway/search/route.h"

namespace loamway {

/// Weights for a HierarchyMetric: of every arc that is open all the way, infinite for the others. `primary`
/// has one weight an arc.
[[nodiscard]] std::vector<RouteWeight> through_weights(const VehicleRoads& roads,
                                                       std::span<const std::uint32_t> primary);

/// How an answer was found.
enum class RouteMethod {
    direct,     // along one arc
    hierarchy,  // the way between nodes could be driven as it was
    guided,     // turns, forbidden or priced, made a search over arcs necessary
    plain       // by RouteFinder: no way, sums too large, or a cap on the length that binds
};

/// How a node at an end is reached (or left): the weight up to there and the arc next to it.
struct EndLabel {
    RouteWeight weight = infinite_weight;
    std::uint32_t node = 0;   // at the other end of the arc; the node itself beside the first or last piece
    std::uint32_t piece = 0;  // number of the first or last piece
    ArcId arc;
};
using EndLabels = std::unordered_map<std::uint32_t, EndLabel>;  // by node

/// Answers queries one after another and reuses its memory; one object a thread. Keeps references to the
/// roads and the hierarchy.
class FastRoute {
public:
    FastRoute(const VehicleRoads& roads, const Hierarchy& hierarchy);

    /// As RouteFinder::find. `metric` must have been made from through_weights(roads, primary).
    [[nodiscard]] std::optional<Route> find(const RoadPoint& from, const RoadPoint& to,
                                            std::span<const std::uint32_t> primary,
                                            const HierarchyMetric& metric, std::uint64_t cap_dm = no_cap,
                                            const TurnPrices& turns = {});

    [[nodiscard]] RouteMethod last_method() const { return m_method; }
    /// States settled by the guided search of the last query.
    [[nodiscard]] std::size_t last_effort() const { return m_effort; }

private:
    struct Question;
    [[nodiscard]] std::vector<RoutePiece> pieces_between_nodes(const Question& q) const;
    [[nodiscard]] bool can_be_driven(const std::vector<RoutePiece>& pieces) const;
    [[nodiscard]] std::optional<Route> find_without_cap(const Question& q);
    [[nodiscard]] std::optional<Route> guided(const Question& q, const std::optional<Route>& known,
                                              RouteWeight at_most);
    [[nodiscard]] RouteWeight to_go(std::uint32_t state);
    [[nodiscard]] RouteFinder& plain();

    const VehicleRoads* m_roads;
    HierarchyQuery m_query;
    DistanceTo m_distance_to;
    std::optional<RouteFinder> m_plain;
    EndLabels m_before, m_after;
    std::vector<WeightedNode> m_sources, m_targets;
    std::vector<RouteWeight> m_best;  // by state, as in RouteFinder; empty until a search over arcs is needed
    std::vector<std::uint32_t> m_from;   // state before
    std::vector<std::uint32_t> m_stamp;  // query that wrote the two above
    std::uint32_t m_now = 0;
    RouteMethod m_method = RouteMethod::direct;
    std::size_t m_effort = 0;
};

}  // namespace loamway

#endif
