// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/snap.h"

#include <limits>

#include "edge_grid.h"

namespace loamway {

namespace {

std::optional<NearestEdge> nearest(const VehicleRoads& roads, GeoPoint p, double limit_m,
                                   std::optional<std::uint32_t> part) {
    return nearest_edge(roads.graph().region(), p, limit_m, [&](EdgeId e) {
        const std::uint32_t on = roads.part_of(e);
        return on != VehicleRoads::no_part && (!part || on == *part);
    });
}

}  // namespace

std::optional<RoadPoint> snap(const VehicleRoads& roads, GeoPoint p, Length limit,
                              std::optional<std::uint32_t> part) {
    const auto best = nearest(roads, p, limit.metres(), part);
    if (!best)
        return std::nullopt;
    const RegionView& region = roads.graph().region();
    RoadPoint r;
    r.edge = best->edge;
    r.offset_dm = offset_on_edge(region, best->edge, best->at);
    r.point = best->at.point;
    r.off_road = best->at.distance;
    r.part = roads.part_of(best->edge);
    return r;
}

std::optional<Length> distance_to_roads(const VehicleRoads& roads, GeoPoint p) {
    const auto best = nearest(roads, p, std::numeric_limits<double>::infinity(), std::nullopt);
    return best ? std::optional(best->at.distance) : std::nullopt;
}

GeoPoint point_on_edge(const RoadGraph& graph, EdgeId edge, std::uint32_t offset_dm) {
    const std::vector<GeoPoint> line = graph.region().edge_points(edge);
    const std::uint32_t length_dm = graph.region().edges[edge.index()].length_dm;
    const double total = polyline_length(line).metres();
    double left = length_dm == 0 ? 0 : total * offset_dm / length_dm;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double piece = distance(line[i], line[i + 1]).metres();
        if (left <= piece && piece > 0)
            return interpolate(line[i], line[i + 1], left / piece);
        left -= piece;
    }
    return line.back();
}

}  // namespace loamway
