// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/arc_bearings.h"

#include <cmath>
#include <limits>

namespace loamway {

namespace {

// The bearing of the last (or first) stretch of about 20 m.
double bearing_near_end(const std::vector<GeoPoint>& points, bool at_start) {
    constexpr double reach_m = 20;
    const std::size_t n = points.size();
    const auto point = [&](std::size_t i) { return at_start ? points[i] : points[n - 1 - i]; };
    double metres = 0;
    GeoPoint far = point(0);
    for (std::size_t i = 1; i < n; ++i) {
        const double piece = distance(point(i - 1), point(i)).metres();
        if (metres + piece >= reach_m && piece > 0) {
            far = interpolate(point(i - 1), point(i), (reach_m - metres) / piece);
            break;
        }
        metres += piece;
        far = point(i);
    }
    return at_start ? bearing_deg(point(0), far) : bearing_deg(far, point(0));
}

}  // namespace

double turn_between(const RoadGraph& graph, ArcId in, ArcId out) {
    return turn_deg(bearing_near_end(graph.arc_points(in), false),
                    bearing_near_end(graph.arc_points(out), true));
}

ArcBearings::ArcBearings(const RoadGraph& graph) : m_graph(graph), m_bearing(graph.arc_count()) {
    for (std::atomic<float>& b : m_bearing)
        b.store(std::numeric_limits<float>::quiet_NaN(), std::memory_order_relaxed);
}

// Two threads that ask at once work out the same.
float ArcBearings::at_start(ArcId a) const {
    float b = m_bearing[a.index()].load(std::memory_order_relaxed);
    if (std::isnan(b)) {
        b = static_cast<float>(bearing_near_end(m_graph.arc_points(a), true));
        m_bearing[a.index()].store(b, std::memory_order_relaxed);
    }
    return b;
}

}  // namespace loamway
