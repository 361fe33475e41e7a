// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_FLAGS_H
#define LOAMWAY_PLAN_FLAGS_H

// What somebody must know or look at along a route: limits, access, bridges, barriers, crossings, fords,
// surfaces. Repeats are summed up in one line. A flag says what was compared with what; it decides nothing.

#include <string>
#include <vector>

#include "loamway/plan/plan.h"
#include "path.h"

namespace loamway {

/// Flags of a path for the vehicle of `roads`. With `surfaces` also what the map says of the ground.
[[nodiscard]] std::vector<Flag> route_flags(const Setting& setting, const VehicleRoads& roads,
                                            const Path& path, bool surfaces);

/// What the recipe's hours for wide moves say of a machine on the road from `depart` to `arrive`; empty when
/// it is within them, or they do not concern it.
[[nodiscard]] std::string outside_wide_move_hours(const Setting& setting, Instant depart, Instant arrive);

/// The driven machine's own width and the recipe's thresholds, daylight.
[[nodiscard]] std::vector<Flag> machine_flags(const Setting& setting, Instant arrive);

}  // namespace loamway

#endif
