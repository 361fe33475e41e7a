// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_SPREAD_ENDS_H
#define LOAMWAY_SEARCH_SPREAD_ENDS_H

#include "loamway/search/fast_route.h"
#include "route_ends.h"

namespace loamway {

/// From the first pieces over private ground (or back from the last pieces): all nodes where the open road
/// may be entered. Turn rules are left out, as between all nodes.
void spread_ends(const VehicleRoads& roads, const RouteEnds& ends, std::span<const std::uint32_t> primary,
                 bool backwards, EndLabels& labels);

}  // namespace loamway

#endif
