// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_LOADING_PLACES_H
#define LOAMWAY_PLAN_LOADING_PLACES_H

// Where a low-bed can stand, load and get away again: yards, rest areas, parking places and lay-bys of the
// map, mouths of side ways that are long enough, places the user or the corrections name. Each with a score
// (higher is better; all figures are assumptions) and the reason for it in words.

#include <optional>
#include <string>
#include <vector>

#include "hauling.h"
#include "loamway/graph/snap.h"

namespace loamway {

struct LoadingPlace {
    RoadPoint at;        // on a road that both vehicles may use
    GeoPoint point;      // where the low-bed stands
    std::string name;    // "yard \"Mill\""
    std::string reason;  // "yard, gravel or earth ground, 40 m off the road, room to turn"
    std::int32_t score = 0;
    std::vector<std::string> cautions;
    std::optional<std::size_t> correction;  // that named it
};

/// What the low-bed, its ramp and the machine in front of it take in a row.
[[nodiscard]] Length room_to_load(const Setting& setting);

/// Best score first, then as the region and the user list them.
[[nodiscard]] std::vector<LoadingPlace> find_loading_places(const Setting& setting,
                                                            const VehicleRoads& driven,
                                                            const Hauling& hauling);

/// Of each place that somebody named and that is none for these vehicles: which, and why.
[[nodiscard]] std::vector<std::string> named_places_left_out(const Setting& setting,
                                                             const VehicleRoads& driven,
                                                             const Hauling& hauling);

}  // namespace loamway

#endif
