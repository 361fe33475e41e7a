// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_ASSEMBLE_ROUTE_H
#define LOAMWAY_SEARCH_ASSEMBLE_ROUTE_H

// The last steps that the searches over arcs have in common.

#include <utility>
#include <vector>

#include "route_ends.h"
#include "states.h"

namespace loamway {

/// The best way from the end of a state, of whose arc `driven` was driven, straight onto a target stretch;
/// null when there is none.
[[nodiscard]] std::pair<RouteWeight, const RoutePiece*> finish(const States& states,
                                                               std::span<const std::uint32_t> primary,
                                                               const TurnPrices& turns, const RouteEnds& ends,
                                                               std::uint32_t state, const RoutePiece& driven);

/// Without stretches of no length at either end, which add nothing but a turn nobody drives.
[[nodiscard]] Route make_route(const RoadGraph& graph, RouteWeight weight, std::vector<RoutePiece> pieces);

/// The pieces that lead to a state and on along `end`; `from` gives the state before each, no_state at the
/// first.
[[nodiscard]] std::vector<RoutePiece> pieces_to(const RoadGraph& graph, const States& states,
                                                const RouteEnds& ends, std::span<const std::uint32_t> from,
                                                std::uint32_t state, const RoutePiece& end);

}  // namespace loamway

#endif
