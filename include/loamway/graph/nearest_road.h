// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_NEAREST_ROAD_H
#define LOAMWAY_GRAPH_NEAREST_ROAD_H

// Which road a finger on the map means, whoever may use it.

#include <optional>

#include "loamway/base/geo.h"
#include "loamway/base/ids.h"
#include "loamway/region/region.h"

namespace loamway {

struct NearestRoad {
    EdgeId edge;
    GeoPoint point;   // on the road
    Length off_road;  // from the point asked for
};

/// The nearest piece of road no farther than `limit`; ties go to the lower edge id.
[[nodiscard]] std::optional<NearestRoad> nearest_road(const RegionView& region, GeoPoint p, Length limit);

}  // namespace loamway

#endif
