// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_ROUTE_CHOICE_H
#define LOAMWAY_PLAN_ROUTE_CHOICE_H

// The driven routes of a plan, one for each aim, each with its stops.

#include <optional>
#include <string>
#include <vector>

#include "setting.h"
#include "stops.h"

namespace loamway {

struct RoutePlan {
    std::string id;
    std::vector<std::string> also;  // aims whose route and stops turned out the same
    Route route;
    StopPlan stops;
    std::optional<HandOver> hand_over;  // of a mixed move, also one of the stops
    bool exact = true;
    std::optional<double> gap_m;  // least-hard: paved metres by which a better way might still win
};

[[nodiscard]] inline const HandOver* hand_over_of(const RoutePlan& p) {
    return p.hand_over ? &*p.hand_over : nullptr;
}

[[nodiscard]] inline bool drives_on_both_sides(const RoutePlan& p) {
    return p.hand_over && p.hand_over->driven_before() && p.hand_over->piece < p.route.pieces.size();
}

struct ChosenRoutes {
    std::vector<RoutePlan> routes;  // empty when no way leads from one end to the other
    std::uint64_t cap_dm = no_cap;  // the detour cap
};

/// `cost_weights` as Setting gives them. Least-hard within the detour cap, least-cost, least-time.
[[nodiscard]] ChosenRoutes choose_routes(const Setting& setting, const VehicleRoads& roads,
                                         const StopPlaces& places,
                                         const std::vector<std::uint32_t>& cost_weights,
                                         const RoadPoint& from, const RoadPoint& to);

}  // namespace loamway

#endif
