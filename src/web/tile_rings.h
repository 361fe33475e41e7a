// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_TILE_RINGS_H
#define LOAMWAY_SRC_WEB_TILE_RINGS_H

// Areas as a tile must hold them. Cutting and rounding make rings that touch or cross themselves, and some
// maps have such rings already; a tile may not.

#include <cstdint>
#include <vector>

#include "tile_geometry.h"

namespace loamway {

/// Rings without their first point again at the end. The outer one has a positive area by the surveyor's
/// formula on tile numbers, holes a negative one.
struct TilePolygon {
    TileLine outer;
    std::vector<TileLine> holes;
};

/// Twice the area by the surveyor's formula.
[[nodiscard]] std::int64_t twice_area(const TileLine& ring);

/// What lies inside the ring by the even-odd rule, as valid polygons that at most touch in points. Where
/// lines cross between whole numbers they are bent to the nearest one.
[[nodiscard]] std::vector<TilePolygon> valid_polygons(TileLine ring);

}  // namespace loamway

#endif
