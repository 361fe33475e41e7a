// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_TILE_GEOMETRY_H
#define LOAMWAY_SRC_WEB_TILE_GEOMETRY_H

// From degrees to the whole numbers of a tile: Web Mercator (spherical, EPSG:3857), x to the east and y to
// the south from the tile's north-western corner, 4096 units a side.

#include <compare>
#include <cstdint>
#include <span>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/region/region_window.h"
#include "tile.h"

namespace loamway {

constexpr int tile_extent = 4096;
constexpr int tile_buffer = 64;  // drawn beyond each side, so that wide lines do not end at the seam

struct TilePoint {
    std::int32_t x = 0, y = 0;
    friend auto operator<=>(const TilePoint&, const TilePoint&) = default;
};
using TileLine = std::vector<TilePoint>;

/// Tile units before rounding.
struct FinePoint {
    double x = 0, y = 0;
};
using FineLine = std::vector<FinePoint>;

class TileFrame {
public:
    /// Input Error when there is no such tile.
    explicit TileFrame(const TileId& id);

    [[nodiscard]] int zoom() const { return m_zoom; }
    /// What the tile with its buffer shows.
    [[nodiscard]] const GeoBox& box() const { return m_box; }
    [[nodiscard]] FinePoint at(GeoPoint p) const;
    /// Goes on across the 180th meridian instead of round the world.
    [[nodiscard]] FineLine line(std::span<const GeoPoint> points) const;

private:
    [[nodiscard]] GeoPoint corner(double x, double y) const;
    int m_zoom;
    double m_scale;   // units round the world
    double m_x, m_y;  // of the tile's corner
    GeoBox m_box;
};

[[nodiscard]] TilePoint rounded(FinePoint p);
[[nodiscard]] bool in_tile(TilePoint p);

/// Leaves out points that lie within `tolerance` of the line without them. Both ends stay.
[[nodiscard]] FineLine simplified(FineLine line, double tolerance);

/// The pieces of a line inside the tile and its buffer, rounded; each has at least two points, none twice in
/// a row.
[[nodiscard]] std::vector<TileLine> clipped_line(std::span<const FinePoint> line);

/// A ring (last point not the first again) cut to the tile and its buffer, rounded. It may run along the
/// buffer's side to and fro: see valid_polygons.
[[nodiscard]] TileLine clipped_ring(FineLine ring);

}  // namespace loamway

#endif
