// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_GRAPH_STOP_REACH_H
#define LOAMWAY_SRC_GRAPH_STOP_REACH_H

// How near a correction must be to a place to speak of it.

#include <string_view>

#include "loamway/region/correction.h"
#include "loamway/region/region.h"

namespace loamway {

inline const Length beside_place = Length::from_metres(30);

/// Whether a no_stop correction speaks of this place: it lies within 30 m of it, or of the part of a side way
/// where a machine would stand.
[[nodiscard]] bool takes_away(const RegionView& region, const Correction& no_stop,
                              const StopPlaceRecord& place);

/// Distance from a point to a correction's point or line.
[[nodiscard]] Length distance_to(const Correction& c, GeoPoint p);

[[nodiscard]] bool has_key(const RegionView& region, std::uint32_t tag_set, std::string_view key);

}  // namespace loamway

#endif
