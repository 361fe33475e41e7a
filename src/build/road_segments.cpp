// SPDX-License-Identifier: Apache-2.0
#include "road_segments.h"

#include <algorithm>

namespace loamway {

namespace {

constexpr std::int64_t cell_e7 = 20'000;  // about 200 m: the reach of most questions
constexpr std::int64_t least_max_cells = 1 << 20;

}  // namespace

RoadSegments::RoadSegments(const Assembly& a) : m_a(a) {
    m_first.reserve(a.pieces.size() + 1);
    m_first.push_back(0);
    MapBox bounds;
    for (const RoadPiece& piece : a.pieces) {
        m_first.push_back(m_first.back() + piece.ref_count - 1);
        for (std::uint32_t i = 0; i < piece.ref_count; ++i)
            bounds.add(a.ref_point(piece.ref_first + i));
    }
    const std::uint32_t count = m_first.back();
    std::uint32_t edge = 0;
    m_grid.fill(bounds, cell_e7, std::max<std::int64_t>(least_max_cells, count / 2), count,
                [&](std::uint32_t number, auto visit) {
                    // Numbers come in order, upwards or downwards: the edge is this one or next to it.
                    while (number < m_first[edge])
                        --edge;
                    while (number >= m_first[edge + 1])
                        ++edge;
                    const std::size_t ref = m_a.pieces[edge].ref_first + (number - m_first[edge]);
                    visit(MapBox::of(m_a.ref_point(ref), m_a.ref_point(ref + 1)));
                });
}

std::uint32_t RoadSegments::edge_of(std::uint32_t segment) const {
    const auto after = std::upper_bound(m_first.begin(), m_first.end(), segment);
    return static_cast<std::uint32_t>(after - m_first.begin() - 1);
}

bool RoadSegments::any_within(GeoPoint p, double metres) const {
    return nearest(p, metres, [](std::uint32_t) { return true; }).has_value();
}

}  // namespace loamway
