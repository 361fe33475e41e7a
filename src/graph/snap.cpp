// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/snap.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace loamway {

namespace {

struct Grid {
    explicit Grid(const RegionView& view) : region(view) {
        min_lat = region.grid_header[0];
        min_lon = region.grid_header[1];
        cell = region.grid_header[2];
        rows = region.grid_header[3];
        columns = region.grid_header[4];
    }
    [[nodiscard]] std::int64_t row(std::int64_t lat) const { return floor_div(lat - min_lat); }
    [[nodiscard]] std::int64_t column(std::int64_t lon) const { return floor_div(lon - min_lon); }
    [[nodiscard]] std::int64_t floor_div(std::int64_t v) const {
        return v >= 0 ? v / cell : -((-v + cell - 1) / cell);
    }
    const RegionView& region;
    std::int64_t min_lat, min_lon, cell, rows, columns;
};

// Shortest side of a cell on the ground near `lat`, with a margin for the ellipsoid.
double cell_metres(const Grid& grid, double lat) {
    const double degrees = static_cast<double>(grid.cell) * 1e-7;
    const double cos_lat = std::max(0.0, std::cos(lat * 0.017453292519943295));
    return degrees * 110500.0 * std::min(1.0, cos_lat);
}

bool usable(const VehicleRoads& roads, EdgeId e, std::optional<std::uint32_t> part) {
    const std::uint32_t p = roads.part_of(e);
    return p != VehicleRoads::no_part && (!part || p == *part);
}

// Offset along the edge, in decimetres of its stored length, of a point on its line.
std::uint32_t offset_of(const EdgeRecord& edge, std::span<const GeoPoint> line, const Projection& at) {
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
    return static_cast<std::uint32_t>(std::lround(share * edge.length_dm));
}

struct Best {
    double metres = std::numeric_limits<double>::infinity();
    EdgeId edge;
    Projection at;
};

void try_cell(const VehicleRoads& roads, const Grid& grid, std::int64_t row, std::int64_t column, GeoPoint p,
              std::optional<std::uint32_t> part, Best& best) {
    if (row < 0 || column < 0 || row >= grid.rows || column >= grid.columns)
        return;
    const std::size_t c = static_cast<std::size_t>(row * grid.columns + column);
    const RegionView& region = grid.region;
    for (std::uint32_t i = region.grid_first[c]; i < region.grid_first[c + 1]; ++i) {
        const EdgeId e{region.grid_edges[i]};
        if (!usable(roads, e, part))
            continue;
        const Projection at = project(p, region.edge_points(e));
        const double d = at.distance.metres();
        if (d < best.metres || (d == best.metres && e < best.edge))
            best = {d, e, at};
    }
}

// Rings of cells outwards until the next ring cannot hold anything nearer.
std::optional<Best> nearest(const VehicleRoads& roads, GeoPoint p, double limit_m,
                            std::optional<std::uint32_t> part) {
    const Grid grid(roads.graph().region());
    if (grid.rows == 0 || grid.columns == 0)
        return std::nullopt;
    const std::int64_t row = grid.row(p.lat_e7), column = grid.column(p.lon_e7);
    const double step = cell_metres(grid, p.lat());
    const std::int64_t last = std::max({std::abs(row), std::abs(row - grid.rows + 1), std::abs(column),
                                        std::abs(column - grid.columns + 1)}) + 1;
    // Rings that lie wholly outside the grid hold nothing.
    const std::int64_t first = std::max<std::int64_t>(
        {0, -row, row - grid.rows + 1, -column, column - grid.columns + 1});
    Best best;
    for (std::int64_t ring = first; ring <= last; ++ring) {
        const double nearest_possible = static_cast<double>(std::max<std::int64_t>(0, ring - 1)) * step;
        if (nearest_possible > std::min(best.metres, limit_m))
            break;
        if (ring == 0) {
            try_cell(roads, grid, row, column, p, part, best);
            continue;
        }
        for (std::int64_t c = std::max<std::int64_t>(0, column - ring);
             c <= std::min(grid.columns - 1, column + ring); ++c) {
            try_cell(roads, grid, row - ring, c, p, part, best);
            try_cell(roads, grid, row + ring, c, p, part, best);
        }
        for (std::int64_t r = std::max<std::int64_t>(0, row - ring + 1);
             r <= std::min(grid.rows - 1, row + ring - 1); ++r) {
            try_cell(roads, grid, r, column - ring, p, part, best);
            try_cell(roads, grid, r, column + ring, p, part, best);
        }
    }
    if (best.edge.is_none() || best.metres > limit_m)
        return std::nullopt;
    return best;
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
    r.offset_dm = offset_of(region.edges[best->edge.index()], region.edge_points(best->edge), best->at);
    r.point = best->at.point;
    r.off_road = best->at.distance;
    r.part = roads.part_of(best->edge);
    return r;
}

std::optional<Length> distance_to_roads(const VehicleRoads& roads, GeoPoint p) {
    const auto best = nearest(roads, p, std::numeric_limits<double>::infinity(), std::nullopt);
    return best ? std::optional(Length::from_metres(best->metres)) : std::nullopt;
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
