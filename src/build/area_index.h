// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_AREA_INDEX_H
#define LOAMWAY_SRC_BUILD_AREA_INDEX_H

// "Does this point lie in any of these areas?" for many points. Areas are looked up by a grid over their
// boxes; inside an area only the sides at the point's latitude are tested.

#include <cstdint>
#include <span>
#include <vector>

#include "cell_grid.h"
#include "loamway/base/geo.h"

namespace loamway {

class AreaIndex {
public:
    /// Starts an area; rings follow. Rings count by the even-odd rule: holes are rings like any other.
    void begin_area();
    void add_ring(std::span<const GeoPoint> closed_ring);
    /// To be called once, after the last ring.
    void finish();
    [[nodiscard]] bool contains(GeoPoint p) const;
    [[nodiscard]] std::size_t size() const { return m_areas.size(); }

private:
    struct Side {
        GeoPoint a, b;
    };
    struct Area {
        MapBox box;
        std::uint32_t side_first = 0;
        std::uint32_t side_count = 0;
        std::uint32_t band_first = 0;  // into m_band_first
        std::uint32_t bands = 1;
    };
    void sort_into_bands(Area& area);
    [[nodiscard]] static std::uint32_t band_of(const Area& area, std::int64_t lat);
    [[nodiscard]] bool area_contains(const Area& area, GeoPoint p) const;

    std::vector<Area> m_areas;
    std::vector<Side> m_sides;
    std::vector<std::uint32_t> m_band_first;  // bands + 1 for each area, into m_band_sides
    std::vector<std::uint32_t> m_band_sides;
    CellGrid m_grid;
};

}  // namespace loamway

#endif
