// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_LOADING_ROOM_H
#define LOAMWAY_PLAN_LOADING_ROOM_H

// Which mapped places have room for a low-bed to load, by their kind alone. Whether machine and low-bed may
// come there, how level and how firm it is, a plan finds out. Pure.

#include "loamway/base/units.h"
#include "loamway/region/region.h"

namespace loamway {

/// What low-bed, ramp and machine take in a row while nobody says which they are (assumption).
constexpr Length usual_loading_room = Length::from_metres(30);

/// `room`: what low-bed, ramp and machine take in a row; a side way must be that long.
[[nodiscard]] bool has_room_to_load(const StopPlaceRecord& place, Length room = usual_loading_room);

}  // namespace loamway

#endif
