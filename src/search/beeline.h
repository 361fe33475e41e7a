// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_BEELINE_H
#define LOAMWAY_SEARCH_BEELINE_H

// No road to a point is shorter than this: keeps searches under a cap inside an ellipse. The chord on a
// sphere whose radius is the least radius of curvature of the WGS84 ellipsoid (b^2 / a, at the equator along
// the meridian) is shorter than any way on the ellipsoid. Edges are rounded to the decimetre, and half a
// decimetre is less than 0.5 % of an edge of 10 m; 100 m more are left for 2,000 shorter ones.

#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "loamway/base/geo.h"
#include "loamway/graph/road_graph.h"
#include "route_ends.h"

namespace loamway {

class Beeline {
public:
    /// From anywhere up to `around_dm` from a point.
    Beeline(GeoPoint from, std::uint32_t around_dm) : m_from(direction(from)), m_around_dm(around_dm) {}
    /// From the starts of a search, which all begin on one edge; there is at least one.
    Beeline(const RoadGraph& graph, const RouteEnds& ends)
        : Beeline(graph.region().node_point(graph.head(ends.starts.front().arc)),
                  graph.arc(ends.starts.front().arc).length_dm) {}

    /// Decimetres, at least so many by road.
    [[nodiscard]] std::uint64_t operator()(GeoPoint to) const {
        const std::array<double, 3> d = direction(to);
        const double x = d[0] - m_from[0], y = d[1] - m_from[1], z = d[2] - m_from[2];
        const double dm = 0.995 * 63'354'390 * std::sqrt(x * x + y * y + z * z) - 1000 - m_around_dm;
        return dm > 0 ? static_cast<std::uint64_t>(dm) : 0;
    }

private:
    [[nodiscard]] static std::array<double, 3> direction(GeoPoint p) {
        const double to_rad = std::numbers::pi / 180;
        const double lat = p.lat() * to_rad, lon = p.lon() * to_rad;
        return {std::cos(lat) * std::cos(lon), std::cos(lat) * std::sin(lon), std::sin(lat)};
    }
    std::array<double, 3> m_from;
    double m_around_dm;
};

}  // namespace loamway

#endif
