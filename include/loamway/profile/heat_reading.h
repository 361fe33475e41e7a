// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PROFILE_HEAT_READING_H
#define LOAMWAY_PROFILE_HEAT_READING_H

// Infrared readings of a bar's surface after a run of known length, as a machine profile or a move notes
// them:
// [[reading]] with
//   km, speed_kmh, air_c     the run that led up to the stop, at one speed, started with cold belts
//   surface = "asphalt"      asphalt, concrete, gravel, earth or field
//   sun = 0.5                0 night or overcast .. 1 clear noon
//   state                    working state of the machine then (its first)
//   bar_mm                   height of the bars then (as new)
//   minutes_after_stop       best within 2, at most 20
//   flank_c or tip_c         the reading: flank half-way up, or tip
//   sd_c = 2                 how far the instrument and the spot may be off

#include <optional>
#include <string>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/base/units.h"
#include "loamway/text/table.h"

namespace loamway {

struct NotedReading {
    Length run;
    Speed speed;
    Temperature air;
    std::string surface = "asphalt";
    double sun = 0.5;
    std::string state;  // empty: the machine's first
    std::optional<Length> bar_height;
    Duration after_stop;
    bool tip = false;
    Temperature value;
    double sd_k = 2.0;
    ErrorPlace place;  // where it was noted
};

/// The [[reading]] entries of a document. Strict: faults are input Errors with file and line.
[[nodiscard]] std::vector<NotedReading> read_readings(Table& document);

}  // namespace loamway

#endif
