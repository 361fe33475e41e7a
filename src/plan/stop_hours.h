// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_STOP_HOURS_H
#define LOAMWAY_PLAN_STOP_HOURS_H

// What the hour and the season say about places to stop.

#include <string>

#include "setting.h"

namespace loamway {

/// Whether some part of the move may fall into school hours; then nobody stands near a school.
[[nodiscard]] bool meets_school_hours(const Setting& setting);

/// The months in which dry stubble and grass burn (assumption): June to September, or December to March in
/// the south.
[[nodiscard]] bool in_fire_season(const Setting& setting);

/// Of a place that the map has near a school.
[[nodiscard]] std::string school_caution(const Setting& setting);

}  // namespace loamway

#endif
