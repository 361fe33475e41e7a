// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_CELL_GRID_H
#define LOAMWAY_SRC_BUILD_CELL_GRID_H

// A grid of square cells (in degrees) that lists, for each cell, the items whose boxes touch it. For every
// "what is near here?" of the build, and the region's own snapping grid.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

#include "loamway/base/geo.h"

namespace loamway {

/// In 1e-7 degrees, wide enough to be grown past the globe's rim.
struct MapBox {
    std::int64_t min_lat = INT64_MAX, min_lon = INT64_MAX, max_lat = INT64_MIN, max_lon = INT64_MIN;

    void add(GeoPoint p) {
        min_lat = std::min<std::int64_t>(min_lat, p.lat_e7);
        max_lat = std::max<std::int64_t>(max_lat, p.lat_e7);
        min_lon = std::min<std::int64_t>(min_lon, p.lon_e7);
        max_lon = std::max<std::int64_t>(max_lon, p.lon_e7);
    }
    [[nodiscard]] bool empty() const { return min_lat > max_lat; }
    [[nodiscard]] bool contains(GeoPoint p) const {
        return p.lat_e7 >= min_lat && p.lat_e7 <= max_lat && p.lon_e7 >= min_lon && p.lon_e7 <= max_lon;
    }
    static MapBox of(GeoPoint a, GeoPoint b) {
        MapBox box;
        box.add(a);
        box.add(b);
        return box;
    }
};

/// Metres per 1e-7 degree near a latitude: a plane good to a few parts in ten thousand over a kilometre,
/// which is all that nearness tests ask for. Lengths of roads are measured on the ellipsoid elsewhere.
struct LocalPlane {
    double north = 0.0;
    double east = 0.0;

    explicit LocalPlane(GeoPoint at) {
        constexpr double radians = std::numbers::pi / 180.0;
        const double lat = at.lat() * radians;
        // Series for the length of a degree on the WGS84 ellipsoid.
        const double metres_lat = 111132.954 - 559.822 * std::cos(2 * lat) + 1.175 * std::cos(4 * lat);
        const double metres_lon =
            111412.84 * std::cos(lat) - 93.5 * std::cos(3 * lat) + 0.118 * std::cos(5 * lat);
        north = metres_lat * 1e-7;
        east = std::max(metres_lon, 1.0) * 1e-7;
    }
    [[nodiscard]] double distance(GeoPoint a, GeoPoint b) const {
        const double dx = (double{static_cast<double>(b.lon_e7)} - a.lon_e7) * east;
        const double dy = (double{static_cast<double>(b.lat_e7)} - a.lat_e7) * north;
        return std::sqrt(dx * dx + dy * dy);
    }
    /// From a point to the segment a-b; `fraction` is where the nearest point lies.
    [[nodiscard]] double distance(GeoPoint p, GeoPoint a, GeoPoint b, double& fraction) const {
        const double bx = (static_cast<double>(b.lon_e7) - a.lon_e7) * east;
        const double by = (static_cast<double>(b.lat_e7) - a.lat_e7) * north;
        const double px = (static_cast<double>(p.lon_e7) - a.lon_e7) * east;
        const double py = (static_cast<double>(p.lat_e7) - a.lat_e7) * north;
        const double length2 = bx * bx + by * by;
        fraction = length2 > 0.0 ? std::clamp((px * bx + py * by) / length2, 0.0, 1.0) : 0.0;
        const double dx = px - fraction * bx;
        const double dy = py - fraction * by;
        return std::sqrt(dx * dx + dy * dy);
    }
    [[nodiscard]] double distance(GeoPoint p, GeoPoint a, GeoPoint b) const {
        double fraction = 0.0;
        return distance(p, a, b, fraction);
    }
    /// The box of all points within `metres` of the given box.
    [[nodiscard]] MapBox grown(MapBox box, double metres) const {
        const auto up = static_cast<std::int64_t>(std::ceil(metres / north));
        const auto across = static_cast<std::int64_t>(std::ceil(metres / east));
        return {box.min_lat - up, box.min_lon - across, box.max_lat + up, box.max_lon + across};
    }
};

class CellGrid {
public:
    CellGrid() = default;

    /// Lists items 0..count-1. `boxes(item, visit)` calls visit(box) for each box of the item; an item stands
    /// once in a cell however many of its boxes touch it. Cells are `cell_e7` wide, or wider when there would
    /// be more than `max_cells` of them or when long items would fill the lists.
    template <class Boxes>
    void fill(MapBox bounds, std::int64_t cell_e7, std::int64_t max_cells, std::uint32_t count, Boxes boxes);

    /// Calls visit(item) for the items of every cell the box touches; an item may come more than once.
    template <class Visit>
    void visit(const MapBox& box, Visit visit_item) const;

    [[nodiscard]] std::int64_t min_lat() const { return m_min_lat; }
    [[nodiscard]] std::int64_t min_lon() const { return m_min_lon; }
    [[nodiscard]] std::int64_t cell() const { return m_cell; }
    [[nodiscard]] std::int64_t rows() const { return m_rows; }
    [[nodiscard]] std::int64_t columns() const { return m_columns; }
    std::vector<std::uint32_t>& first() { return m_first; }
    std::vector<std::uint32_t>& items() { return m_items; }

private:
    void lay_out(const MapBox& bounds, std::int64_t cell_e7, std::int64_t max_cells);
    template <class Visit>
    void for_cells(const MapBox& box, Visit visit_cell) const;
    template <class Boxes>
    bool count_entries(std::uint32_t count, Boxes boxes);

    std::int64_t m_min_lat = 0, m_min_lon = 0, m_cell = 1, m_rows = 0, m_columns = 0;
    std::vector<std::uint32_t> m_first{0};
    std::vector<std::uint32_t> m_items;
};

template <class Visit>
void CellGrid::for_cells(const MapBox& box, Visit visit_cell) const {
    if (m_rows == 0 || box.empty())
        return;
    const auto clamp = [this](std::int64_t value, std::int64_t start, std::int64_t cells) {
        const std::int64_t offset = value - start;
        return std::clamp<std::int64_t>(offset < 0 ? -1 : offset / m_cell, -1, cells);
    };
    const std::int64_t row_end = std::min(clamp(box.max_lat, m_min_lat, m_rows), m_rows - 1);
    const std::int64_t column_end = std::min(clamp(box.max_lon, m_min_lon, m_columns), m_columns - 1);
    const std::int64_t row_first = std::max<std::int64_t>(clamp(box.min_lat, m_min_lat, m_rows), 0);
    const std::int64_t column_first = std::max<std::int64_t>(clamp(box.min_lon, m_min_lon, m_columns), 0);
    for (std::int64_t row = row_first; row <= row_end; ++row)
        for (std::int64_t column = column_first; column <= column_end; ++column)
            visit_cell(static_cast<std::size_t>(row * m_columns + column));
}

template <class Visit>
void CellGrid::visit(const MapBox& box, Visit visit_item) const {
    for_cells(box, [&](std::size_t cell) {
        for (std::uint32_t i = m_first[cell]; i < m_first[cell + 1]; ++i)
            visit_item(m_items[i]);
    });
}

/// Leaves in m_first[cell + 1] how many items the cell lists. False when the lists grow out of proportion.
template <class Boxes>
bool CellGrid::count_entries(std::uint32_t count, Boxes boxes) {
    const auto cells = static_cast<std::size_t>(m_rows * m_columns);
    const std::uint64_t most = 16 * std::uint64_t{count} + cells + 1024;
    m_first.assign(cells + 1, 0);
    std::vector<std::uint32_t> last(cells, 0);
    std::uint64_t entries = 0;
    for (std::uint32_t item = 0; item < count && entries <= most; ++item)
        boxes(item, [&](const MapBox& box) {
            for_cells(box, [&](std::size_t cell) {
                if (last[cell] == item + 1)
                    return;
                last[cell] = item + 1;
                ++m_first[cell + 1];
                ++entries;
            });
        });
    return entries <= most;
}

template <class Boxes>
void CellGrid::fill(MapBox bounds, std::int64_t cell_e7, std::int64_t max_cells, std::uint32_t count,
                    Boxes boxes) {
    lay_out(bounds, cell_e7, max_cells);
    while (!count_entries(count, boxes) && m_rows * m_columns > 1)
        lay_out(bounds, m_cell * 2, max_cells);
    for (std::size_t i = 1; i < m_first.size(); ++i)
        m_first[i] += m_first[i - 1];
    m_items.assign(m_first.back(), 0);
    // Filled from the back, so that each start ends where it belongs; the last item in a cell tells repeats.
    std::vector<std::uint32_t> next(m_first.begin() + 1, m_first.end());
    for (std::uint32_t item = count; item-- > 0;)
        boxes(item, [&](const MapBox& box) {
            for_cells(box, [&](std::size_t cell) {
                if (next[cell] == m_first[cell + 1] || m_items[next[cell]] != item)
                    m_items[--next[cell]] = item;
            });
        });
}

}  // namespace loamway

#endif
