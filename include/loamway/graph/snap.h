// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_SNAP_H
#define LOAMWAY_GRAPH_SNAP_H

// From a point on the map to a point on a road that a vehicle may use.

#include <optional>

#include "loamway/graph/vehicle_roads.h"

namespace loamway {

struct RoadPoint {
    EdgeId edge;
    std::uint32_t offset_dm = 0;  // along the edge from its tail, 0 .. length
    GeoPoint point;               // on the road
    Length off_road;              // from the point asked for
    std::uint32_t part = VehicleRoads::no_part;
};

/// Nearest point on an edge that is open in at least one direction, no farther than `limit`; with `part`
/// only edges of that connected part. Ties go to the lower edge id.
[[nodiscard]] std::optional<RoadPoint> snap(const VehicleRoads& roads, GeoPoint p, Length limit,
                                            std::optional<std::uint32_t> part = std::nullopt);

/// Distance to the nearest edge open to the vehicle, however far; nothing in a region without one.
[[nodiscard]] std::optional<Length> distance_to_roads(const VehicleRoads& roads, GeoPoint p);

/// Point of an edge at an offset.
[[nodiscard]] GeoPoint point_on_edge(const RoadGraph& graph, EdgeId edge, std::uint32_t offset_dm);

}  // namespace loamway

#endif
