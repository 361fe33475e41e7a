// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_REGION_PICTURE_H
#define LOAMWAY_REPORT_REGION_PICTURE_H

// A piece of a region as a picture for a screen, by day or in a dark cab: ground, roads by surface, names,
// and a plan's way with its stops where one is given. Same region, plan and setup, same bytes.

#include <string>

#include "loamway/base/geo.h"
#include "loamway/plan/plan.h"
#include "loamway/region/region.h"

namespace loamway {

struct RegionPictureSetup {
    GeoPoint south_west, north_east;  // shown whole, in the middle; may lie across the date line
    int width = 800, height = 600;    // of the picture, in dots
    bool night = false;
    std::string units = "metric";  // of the scale where there is no plan
    const Plan* plan = nullptr;
    std::string option{};  // of the plan, as for Plan::option_for_output
};

/// The bytes of a PNG. Throws an input Error for a box without height or a picture under 64 or over 4096 dots
/// a side, and with a plan as draw_sheet does.
[[nodiscard]] std::string draw_region_picture(const Region& region, const RegionPictureSetup& setup);

}  // namespace loamway

#endif
