// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_TOOLS_HILLS_H
#define LOAMWAY_TESTS_TOOLS_HILLS_H

// The invented county's ground: a plain that falls to the river, with hills. Drawn like the map with
// operations that round alike on every machine.

#include <cstdint>
#include <string>
#include <vector>

#include "county.h"

namespace loamway {

/// Whole metres above sea level on a grid of 3 seconds of arc, row by row from the north-west.
struct GroundGrid {
    int width = 0, height = 0;
    double west = 0, north = 0, step = 0;  // degrees; of the upper left corner, and of a pixel
    std::vector<std::int16_t> metres;
};
[[nodiscard]] GroundGrid draw_hills(const County& county);

/// As a GeoTIFF in WGS84, deflated in tiles.
void write_hills(const GroundGrid& ground, const std::string& path);

}  // namespace loamway

#endif
