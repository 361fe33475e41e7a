// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_MOVE_ENDS_H
#define LOAMWAY_PLAN_MOVE_ENDS_H

// Where the two ends of a move meet the roads a vehicle may use.

#include <optional>
#include <string>

#include "loamway/graph/snap.h"
#include "setting.h"

namespace loamway {

struct MoveEnds {
    std::optional<RoadPoint> from, to;  // on one connected part, when there is one
    RoadPoint nearest_from, nearest_to;
};

/// Throws a not_found Error when an end has no road in reach.
[[nodiscard]] MoveEnds find_ends(const VehicleRoads& roads, const PlanInputs& in);

/// Why no road joins ends that lie on different parts.
[[nodiscard]] std::string island_text(const VehicleRoads& roads, const MoveEnds& ends, const PlanInputs& in);

/// Which ends of a move the machine is driven at.
struct DrivenEnds {
    bool from = true, to = true;
};
/// Where the nearest road was an island and another was taken, people must know.
void flag_islands(const VehicleRoads& roads, const MoveEnds& ends, const PlanInputs& in,
                  const DrivenEnds& driven, Option& o);

/// How far the low-bed may stand from the machine's own place to load it there: a yard, not a walk.
constexpr Length loading_reach = Length::from_metres(100);

/// Where the loaded low-bed begins and ends: in reach of where the machine stands, else in reach of the road
/// it comes out on. On one connected part, when there is one.
struct HaulEnds {
    std::optional<RoadPoint> from, to;
};
[[nodiscard]] HaulEnds find_haul_ends(const VehicleRoads& loaded, const MoveEnds& machine,
                                      const PlanInputs& in);

/// Where the machine joins the roads, whether or not one way leads from end to end.
[[nodiscard]] const RoadPoint& joins_at_from(const MoveEnds& machine);
[[nodiscard]] const RoadPoint& joins_at_to(const MoveEnds& machine);

/// How far from the machine's own place the low-bed waits, where that is out of its reach; else nothing.
[[nodiscard]] std::optional<Length> waits_off(const RoadPoint& low_bed, const NamedPoint& end);

}  // namespace loamway

#endif
