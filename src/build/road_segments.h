// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_ROAD_SEGMENTS_H
#define LOAMWAY_SRC_BUILD_ROAD_SEGMENTS_H

// All straight pieces of all edges in a grid: which road is next to a point?

#include <cstdint>
#include <optional>
#include <vector>

#include "assembly.h"
#include "cell_grid.h"

namespace loamway {

struct RoadFoot {
    std::uint32_t edge = no_index;
    std::uint32_t segment = 0;  // of the edge
    double fraction = 0.0;      // along the segment
    double distance_m = 0.0;
};

class RoadSegments {
public:
    explicit RoadSegments(const Assembly& a);

    /// The nearest point on the edges that `wanted(edge)` takes, within `metres`. Of equally near edges the
    /// one with the lower number.
    template <class Wanted>
    [[nodiscard]] std::optional<RoadFoot> nearest(GeoPoint p, double metres, Wanted wanted) const;
    [[nodiscard]] bool any_within(GeoPoint p, double metres) const;

private:
    [[nodiscard]] std::uint32_t edge_of(std::uint32_t segment) const;

    const Assembly& m_a;
    std::vector<std::uint32_t> m_first;  // number of each edge's first segment, and the end
    CellGrid m_grid;
};

template <class Wanted>
std::optional<RoadFoot> RoadSegments::nearest(GeoPoint p, double metres, Wanted wanted) const {
    const LocalPlane plane(p);
    RoadFoot best;
    best.distance_m = metres;
    m_grid.visit(plane.grown(MapBox::of(p, p), metres), [&](std::uint32_t number) {
        const std::uint32_t edge = edge_of(number);
        const std::uint32_t segment = number - m_first[edge];
        const std::size_t ref = m_a.pieces[edge].ref_first + segment;
        double fraction = 0.0;
        const double d = plane.distance(p, m_a.ref_point(ref), m_a.ref_point(ref + 1), fraction);
        const bool nearer = d < best.distance_m || (d <= best.distance_m && edge < best.edge);
        if (nearer && wanted(edge))
            best = {edge, segment, fraction, d};
    });
    if (best.edge == no_index)
        return std::nullopt;
    return best;
}

}  // namespace loamway

#endif
