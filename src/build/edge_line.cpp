// SPDX-License-Identifier: Apache-2.0
#include "edge_line.h"

#include <algorithm>
#include <cmath>

#include "cell_grid.h"

namespace loamway {

namespace {

constexpr double bend_arm_m = 20.0;
constexpr double look_beyond_m = 2 * bend_arm_m;
constexpr double slope_arm_m = 25.0;
constexpr double crest_arm_m = 100.0;
constexpr double crest_near_m = 60.0;
constexpr double crest_step_m = 10.0;
constexpr double crest_fall = 0.04;

double circle(GeoPoint p, GeoPoint q, GeoPoint r) {
    const LocalPlane plane(q);
    const double a = plane.distance(p, q);
    const double b = plane.distance(q, r);
    const double c = plane.distance(p, r);
    const double s = (a + b + c) / 2;
    const double area2 = s * (s - a) * (s - b) * (s - c);
    return area2 > 1e-6 ? a * b * c / (4.0 * std::sqrt(area2)) : INFINITY;
}

}  // namespace

EdgeLine::EdgeLine(const Assembly& a, std::uint32_t edge) {
    const RoadPiece& piece = a.pieces[edge];
    const RawMap::Way& way = a.map.roads[piece.way];
    std::uint32_t from = piece.ref_first;
    std::uint32_t to = piece.ref_first + piece.ref_count - 1;
    const auto gap = [&](std::uint32_t x, std::uint32_t y) {
        return LocalPlane(a.ref_point(x)).distance(a.ref_point(x), a.ref_point(y));
    };
    for (double more = 0.0; more < look_beyond_m && from > way.ref_first && a.ref_node[from - 1] != no_index;
         --from)
        more += gap(from, from - 1);
    const std::uint32_t end = way.ref_first + way.ref_count;
    for (double more = 0.0; more < look_beyond_m && to + 1 < end && a.ref_node[to + 1] != no_index; ++to)
        more += gap(to, to + 1);
    m_first = piece.ref_first - from;
    m_last = m_first + piece.ref_count - 1;
    m_along.push_back(0.0);
    for (std::uint32_t ref = from; ref <= to; ++ref)
        m_points.push_back(a.ref_point(ref));
    for (std::size_t i = 1; i < m_points.size(); ++i)
        m_along.push_back(m_along.back() + distance(m_points[i - 1], m_points[i]).metres());
}

double EdgeLine::at(const RoadFoot& foot) const {
    const std::size_t i = m_first + foot.segment;
    return m_along[i] + foot.fraction * (m_along[i + 1] - m_along[i]) - m_along[m_first];
}

GeoPoint EdgeLine::point(double along) const {
    std::size_t i = 1;
    while (i + 1 < m_along.size() && m_along[i] < along)
        ++i;
    const double step = m_along[i] - m_along[i - 1];
    return interpolate(m_points[i - 1], m_points[i], step > 0.0 ? (along - m_along[i - 1]) / step : 0.0);
}

double EdgeLine::bend_radius(double along) const {
    double radius = INFINITY;
    const double here = m_along[m_first] + along;
    for (const double middle : {here - bend_arm_m, here, here + bend_arm_m})
        if (middle >= bend_arm_m && middle + bend_arm_m <= m_along.back())
            radius = std::min(radius,
                              circle(point(middle - bend_arm_m), point(middle), point(middle + bend_arm_m)));
    return radius;
}

EdgeSlope::EdgeSlope(const Assembly& a, std::uint32_t edge) : m_length(a.out.edges[edge].length_dm / 10.0) {
    if (a.out.edge_climb.empty())
        return;
    for (const std::int32_t dm : a.out.view().edge_heights_dm(EdgeId(edge)))
        m_heights.push_back(dm / 10.0);
}

double EdgeSlope::height(double along) const {
    const double at = std::clamp(along / m_length, 0.0, 1.0) * static_cast<double>(m_heights.size() - 1);
    const auto i = std::min(static_cast<std::size_t>(at), m_heights.size() - 2);
    return m_heights[i] + (at - static_cast<double>(i)) * (m_heights[i + 1] - m_heights[i]);
}

double EdgeSlope::steepest_pct(double along) const {
    if (m_heights.size() < 2 || m_length <= 0.0)
        return 0.0;
    const double from = std::max(0.0, along - slope_arm_m);
    const double to = std::min(m_length, along + slope_arm_m);
    return to > from ? 100.0 * std::abs(height(to) - height(from)) / (to - from) : 0.0;
}

bool EdgeSlope::is_crest(double along) const {
    if (m_heights.size() < 3)
        return false;
    for (double at = along - crest_near_m; at <= along + crest_near_m; at += crest_step_m) {
        if (at < crest_arm_m || at + crest_arm_m > m_length)
            continue;
        const double up = (height(at) - height(at - crest_arm_m)) / crest_arm_m;
        const double on = (height(at + crest_arm_m) - height(at)) / crest_arm_m;
        if (up - on >= crest_fall)
            return true;
    }
    return false;
}

}  // namespace loamway
