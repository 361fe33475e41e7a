// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_LANDMARKS_H
#define LOAMWAY_PLAN_LANDMARKS_H

// What a driver sees on the way: bridges, level crossings, roads that branch off, villages; to say where a
// place to stop is. And where on the way the whole combination could turn round.

#include <optional>
#include <string>
#include <vector>

#include "loamway/plan/plan.h"
#include "path.h"
#include "stops.h"

namespace loamway {

struct Landmark {
    double at_m = 0;   // along the option
    std::string text;  // "the bridge"
};
/// The last one passed before `at_m`, at most 3 km back.
[[nodiscard]] std::optional<Landmark> landmark_before(const Setting& setting, const Path& path, double at_m);

/// Metres along the option where the combination can turn round, ascending: mouths of side ways it fits into,
/// yards, rest areas, services, roundabouts.
[[nodiscard]] std::vector<double> turn_places(const Setting& setting, const StopPlaces& places,
                                              const Route& route, const Path& path);

/// Fills last_turn_round_m of every flag that somebody has to look at or that stops the machine.
void note_last_turns(const std::vector<double>& turns, std::vector<Flag>& flags);

}  // namespace loamway

#endif
