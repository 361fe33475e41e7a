// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_GEODATA_POINT_LATTICE_H
#define LOAMWAY_SRC_GEODATA_POINT_LATTICE_H

// A map projection made fast: exact at the corners of small cells of latitude and longitude, bilinear between
// them. A cell where that would be off by more than a fraction of a pixel passes its points to the exact one.

#include <cstdint>
#include <functional>
#include <optional>
#include <unordered_map>

#include "loamway/base/geo.h"

namespace loamway {

/// A place in a raster, in pixels from its upper left corner.
struct PixelPoint {
    double x = 0, y = 0;
};

class PointLattice {
public:
    using Exact = std::function<std::optional<PixelPoint>(double lat, double lon)>;
    explicit PointLattice(Exact exact) : m_exact(std::move(exact)) {}

    /// Nothing where the projection does not reach.
    [[nodiscard]] std::optional<PixelPoint> at(GeoPoint p);

private:
    static constexpr std::int32_t cell_e7 = 1 << 17;  // 1.5 km of latitude
    struct Cell {
        bool smooth = false;
        PixelPoint sw, east, north, twist;  // at the south-west corner, and what a cell east and north adds
    };
    [[nodiscard]] Cell make_cell(std::int32_t row, std::int32_t column) const;

    Exact m_exact;
    std::unordered_map<std::uint64_t, Cell> m_cells;
    const Cell* m_last = nullptr;
    std::int32_t m_row = 0, m_column = 0;
};

}  // namespace loamway

#endif
