// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BELT_TRIP_LEG_H
#define LOAMWAY_SRC_BELT_TRIP_LEG_H

// A trip's segments made ready for the heat models: speed driven, time, and how the machine moves and stands.

#include <vector>

#include "loamway/belt/trip.h"

namespace loamway {

struct TripLeg {
    Speed driven;
    SpeedCap cap = SpeedCap::none;
    Duration driving;
    Driving way, still;
};

/// One leg for each segment; the faults are those of run_trip.
[[nodiscard]] std::vector<TripLeg> plan_legs(const Machine& machine, const Conditions& conditions,
                                             const Motion& motion, const std::vector<TripSegment>& segments);

}  // namespace loamway

#endif
