// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/nearest_road.h"

#include "edge_grid.h"

namespace loamway {

std::optional<NearestRoad> nearest_road(const RegionView& region, GeoPoint p, Length limit) {
    const auto found = nearest_edge(region, p, limit.metres(), [](EdgeId) { return true; });
    if (!found)
        return std::nullopt;
    return NearestRoad{found->edge, found->at.point, found->at.distance};
}

}  // namespace loamway
