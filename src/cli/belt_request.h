// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_BELT_REQUEST_H
#define LOAMWAY_SRC_CLI_BELT_REQUEST_H

// What `loamway belt` was asked, read and run: trip, machine, belts, air, and infrared readings at the trip's
// end.

#include <optional>
#include <string>
#include <vector>

#include "loamway/belt/heat_calibration.h"
#include "loamway/belt/learnt_heat.h"
#include "loamway/belt/trip.h"

namespace loamway {

struct BeltFlags {
    std::string trip, machine, state, air, belts, hours, since_lube, bar_mm, ground;
    std::vector<std::string> flank, tip;  // MINUTES,C
    bool json = false;
};

/// A trip that was run, with what it was run for.
struct BeltRun {
    Machine machine;
    WorkingState state;
    Conditions conditions;
    BeltsNow belts;
    KnownHeat heat;                              // what the result was worked out with
    std::vector<HeatReading> readings;           // at the end of this trip
    std::optional<HeatCalibration> calibration;  // what they taught
    TripResult result;
};

/// Input Errors name the flag or the file and line.
[[nodiscard]] BeltRun run_of(const BeltFlags& flags);

}  // namespace loamway

#endif
