// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_GRAPH_EDGE_GRID_H
#define LOAMWAY_SRC_GRAPH_EDGE_GRID_H

// Which roads lie near a point, by the region's grid of cells.

#include <algorithm>
#include <cstdint>
#include <functional>
#include <optional>

#include "loamway/base/geo.h"
#include "loamway/region/region.h"

namespace loamway {

/// Once round the Earth, in steps of a point.
constexpr std::int64_t full_turn = 3'600'000'000;

/// Cells of the grid, both ends included; empty when it lies outside.
struct CellRange {
    std::int64_t row_first = 0, row_last = -1, column_first = 0, column_last = -1;
    friend bool operator==(const CellRange&, const CellRange&) = default;
};

class EdgeGrid {
public:
    /// The region's arrays must outlive it.
    explicit EdgeGrid(const RegionView& region);

    [[nodiscard]] bool empty() const { return m_rows == 0 || m_columns == 0; }
    [[nodiscard]] std::int64_t rows() const { return m_rows; }
    [[nodiscard]] std::int64_t columns() const { return m_columns; }
    [[nodiscard]] std::int64_t row(std::int64_t lat_e7) const { return floor_div(lat_e7 - m_min_lat); }
    [[nodiscard]] std::int64_t column(std::int64_t lon_e7) const { return floor_div(lon_e7 - m_min_lon); }
    /// Shortest side of a cell on the ground near `lat`, with a margin for the ellipsoid.
    [[nodiscard]] double cell_metres(double lat) const;
    /// The cells that a square of `reach` around the point touches, on its own side of the date line.
    [[nodiscard]] CellRange around(GeoPoint p, Length reach) const;
    /// Calls `each(EdgeId)` for the edges of those cells and of the ones beyond the date line; for one edge
    /// perhaps several times.
    template <class Each>
    void in_reach(GeoPoint p, Length reach, Each&& each) const {
        for (const std::int64_t turn : {std::int64_t{0}, full_turn, -full_turn}) {
            const CellRange cells = around(p.lat_e7, p.lon_e7 + turn, reach);
            for (std::int64_t row = cells.row_first; row <= cells.row_last; ++row)
                for (std::int64_t column = cells.column_first; column <= cells.column_last; ++column)
                    in_cell(row, column, each);
        }
    }
    /// Calls `each(EdgeId)` for the edges of one cell; nothing outside the grid.
    template <class Each>
    void in_cell(std::int64_t row, std::int64_t column, Each&& each) const {
        if (row < 0 || column < 0 || row >= m_rows || column >= m_columns)
            return;
        const auto c = static_cast<std::size_t>(row * m_columns + column);
        for (std::uint32_t i = m_region->grid_first[c]; i < m_region->grid_first[c + 1]; ++i)
            each(EdgeId{m_region->grid_edges[i]});
    }

private:
    [[nodiscard]] CellRange around(std::int64_t lat_e7, std::int64_t lon_e7, Length reach) const;
    [[nodiscard]] std::int64_t floor_div(std::int64_t v) const {
        return v >= 0 ? v / m_cell : -((-v + m_cell - 1) / m_cell);
    }
    const RegionView* m_region;
    std::int64_t m_min_lat, m_min_lon, m_cell, m_rows, m_columns;
};

struct NearestEdge {
    EdgeId edge;
    Projection at;
};

/// The nearest edge that `usable` accepts, no farther than `limit_m`; ties go to the lower edge id.
[[nodiscard]] std::optional<NearestEdge> nearest_edge(const RegionView& region, GeoPoint p, double limit_m,
                                                      const std::function<bool(EdgeId)>& usable);

/// Offset along an edge, in decimetres of its stored length, of a point on its line.
[[nodiscard]] std::uint32_t offset_on_edge(const RegionView& region, EdgeId edge, const Projection& at);

}  // namespace loamway

#endif
