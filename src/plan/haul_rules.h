// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_HAUL_RULES_H
#define LOAMWAY_SRC_PLAN_HAUL_RULES_H

// What part haul knows, as options of a plan use it: the load on its low-bed, flags of limits and loading.

#include <vector>

#include "loamway/haul/loading_plan.h"
#include "loamway/plan/plan.h"
#include "path.h"

namespace loamway {

/// The machine on the move's low-bed, as the conditions are.
[[nodiscard]] LoadingPlan loading_of(const Setting& setting);
/// The loaded low-bed for the map's limits: as high, wide and long as it really stands, its heaviest axle by
/// the lever rule; limits take the margins of VehicleView on top.
[[nodiscard]] VehicleView loaded_vehicle(const LoadingPlan& loading);
/// What stands in the way on the deck or the ramp, and the limits of the loaded low-bed. With an assumed
/// low-bed a stop asks for another one; it does not end the option.
[[nodiscard]] std::vector<Flag> loading_flags(const LoadingPlan& loading);
/// The driven machine beside the region's limits and the recipe's thresholds.
[[nodiscard]] std::vector<Flag> machine_rule_flags(const Setting& setting);

/// Metres along a hauled way, ascending: junctions where another open road leaves, so that the low-bed can
/// turn off or round there.
[[nodiscard]] std::vector<double> turn_off_places(const Setting& setting, const VehicleRoads& roads,
                                                  const Path& path);

}  // namespace loamway

#endif
