// SPDX-License-Identifier: Apache-2.0
#include "edge_grid.h"

#include <cmath>
#include <limits>

namespace loamway {

namespace {

constexpr double radians = 0.017453292519943295;
// Metres a degree of latitude, at the least.
constexpr double least_degree_m = 110500.0;

}  // namespace

EdgeGrid::EdgeGrid(const RegionView& region)
    : m_region(&region),
      m_min_lat(region.grid_header[0]),
      m_min_lon(region.grid_header[1]),
      m_cell(region.grid_header[2]),
      m_rows(region.grid_header[3]),
      m_columns(region.grid_header[4]) {}

double EdgeGrid::cell_metres(double lat) const {
    const double degrees = static_cast<double>(m_cell) * 1e-7;
    const double cos_lat = std::max(0.0, std::cos(lat * radians));
    return degrees * least_degree_m * std::min(1.0, cos_lat);
}

CellRange EdgeGrid::around(GeoPoint p, Length reach) const {
    return around(p.lat_e7, p.lon_e7, reach);
}

CellRange EdgeGrid::around(std::int64_t lat_e7, std::int64_t lon_e7, Length reach) const {
    if (empty())
        return {};
    const double dlat = reach.metres() / least_degree_m * 1e7;
    // Near a pole a few metres are many degrees: the whole row, then.
    const double cos_lat = std::max(1e-4, std::cos(static_cast<double>(lat_e7) * 1e-7 * radians));
    const auto lat = static_cast<std::int64_t>(std::ceil(dlat));
    const auto lon = static_cast<std::int64_t>(std::ceil(std::min(dlat / cos_lat, 3.6e9)));
    CellRange cells{std::max<std::int64_t>(0, row(lat_e7 - lat)), std::min(m_rows - 1, row(lat_e7 + lat)),
                    std::max<std::int64_t>(0, column(lon_e7 - lon)),
                    std::min(m_columns - 1, column(lon_e7 + lon))};
    // A grid round the Earth is one over the date line. A road across the line stands in all its columns, but
    // may leave the grid between its last point and the line.
    if (m_columns * m_cell > full_turn / 2) {
        cells.column_first = std::min(cells.column_first, m_columns - 1);
        cells.column_last = std::max<std::int64_t>(cells.column_last, 0);
    }
    return cells;
}

std::optional<NearestEdge> nearest_edge(const RegionView& region, GeoPoint p, double limit_m,
                                        const std::function<bool(EdgeId)>& usable) {
    const EdgeGrid grid(region);
    if (grid.empty())
        return std::nullopt;
    double best_m = std::numeric_limits<double>::infinity();
    NearestEdge best;
    const auto try_cell = [&](std::int64_t row, std::int64_t column) {
        grid.in_cell(row, column, [&](EdgeId e) {
            if (!usable(e))
                return;
            const Projection at = project(p, region.edge_points(e));
            const double d = at.distance.metres();
            if (d < best_m || (d == best_m && e < best.edge)) {
                best_m = d;
                best = {e, at};
            }
        });
    };
    const std::int64_t row = grid.row(p.lat_e7);
    const double step = grid.cell_metres(p.lat());
    // Rings of cells outwards until the next ring cannot hold anything nearer.
    const auto search_from = [&](std::int64_t column) {
        const std::int64_t last = std::max({std::abs(row), std::abs(row - grid.rows() + 1), std::abs(column),
                                            std::abs(column - grid.columns() + 1)}) +
                                  1;
        // Rings that lie wholly outside the grid hold nothing.
        const std::int64_t first =
            std::max<std::int64_t>({0, -row, row - grid.rows() + 1, -column, column - grid.columns() + 1});
        for (std::int64_t ring = first; ring <= last; ++ring) {
            const double nearest_possible = static_cast<double>(std::max<std::int64_t>(0, ring - 1)) * step;
            if (nearest_possible > std::min(best_m, limit_m))
                return;
            if (ring == 0) {
                try_cell(row, column);
                continue;
            }
            for (std::int64_t c = std::max<std::int64_t>(0, column - ring);
                 c <= std::min(grid.columns() - 1, column + ring); ++c) {
                try_cell(row - ring, c);
                try_cell(row + ring, c);
            }
            for (std::int64_t r = std::max<std::int64_t>(0, row - ring + 1);
                 r <= std::min(grid.rows() - 1, row + ring - 1); ++r) {
                try_cell(r, column - ring);
                try_cell(r, column + ring);
            }
        }
    };
    // The grid ends at the date line; what lies beyond it is as near as the ground says.
    for (const std::int64_t turn : {std::int64_t{0}, full_turn, -full_turn})
        search_from(grid.column(p.lon_e7 + turn));
    if (best.edge.is_none() || best_m > limit_m)
        return std::nullopt;
    return best;
}

std::uint32_t offset_on_edge(const RegionView& region, EdgeId edge, const Projection& at) {
    const std::vector<GeoPoint> line = region.edge_points(edge);
    double before = 0, total = 0;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const double piece = distance(line[i], line[i + 1]).metres();
        if (i < at.segment)
            before += piece;
        else if (i == at.segment)
            before += piece * at.fraction;
        total += piece;
    }
    const double share = total > 0 ? std::clamp(before / total, 0.0, 1.0) : 0.0;
    return static_cast<std::uint32_t>(std::lround(share * region.edges[edge.index()].length_dm));
}

}  // namespace loamway
