// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_EDGE_LINE_H
#define LOAMWAY_SRC_BUILD_EDGE_LINE_H

// How a road lies where somebody may want to stand: along its line, round its bends, over its hills.

#include <cstdint>
#include <vector>

#include "assembly.h"
#include "road_segments.h"

namespace loamway {

/// The line of an edge, and a little of its way before and behind it: a junction does not end a bend.
class EdgeLine {
public:
    EdgeLine(const Assembly& a, std::uint32_t edge);

    [[nodiscard]] double length() const { return m_along[m_last] - m_along[m_first]; }
    /// Metres from the edge's tail.
    [[nodiscard]] double at(const RoadFoot& foot) const;
    [[nodiscard]] GeoPoint vertex(std::size_t i) const { return m_points[m_first + i]; }
    /// The smallest circle through three points of the line near `along`, metres.
    [[nodiscard]] double bend_radius(double along) const;

private:
    [[nodiscard]] GeoPoint point(double along) const;

    std::vector<GeoPoint> m_points;
    std::vector<double> m_along;          // from the first point
    std::size_t m_first = 0, m_last = 0;  // the edge's own ends
};

/// What the heights of a region say; nothing where it has none.
class EdgeSlope {
public:
    EdgeSlope(const Assembly& a, std::uint32_t edge);

    /// Steepest within 25 m, as an amount in percent.
    [[nodiscard]] double steepest_pct(double along) const;
    /// The road tips over within 60 m of `along`: its mean grade over 100 m falls by 4 % or more, which
    /// leaves drivers some 200 m of sight and less (assumption; the region's heights are smoothed).
    [[nodiscard]] bool is_crest(double along) const;

private:
    [[nodiscard]] double height(double along) const;

    std::vector<double> m_heights;  // metres, evenly spaced
    double m_length = 0.0;
};

}  // namespace loamway

#endif
