// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_CAPPED_ROUTE_H
#define LOAMWAY_SEARCH_CAPPED_ROUTE_H

// The best route that is no longer than a cap, where the cap binds.

#include <optional>
#include <span>

#include "route_ends.h"

namespace loamway {

/// Exact; what RouteFinder::find says of its arguments holds.
[[nodiscard]] std::optional<Route> find_capped(const VehicleRoads& roads, const RouteEnds& ends,
                                               std::span<const std::uint32_t> primary, std::uint64_t cap_dm,
                                               const TurnPrices& turns);

}  // namespace loamway

#endif
