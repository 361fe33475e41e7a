// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_ROAD_SURFACE_H
#define LOAMWAY_BELT_ROAD_SURFACE_H

// The grounds the belt models tell apart: finer than the three surface classes of a road. Pure functions.

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "loamway/base/surface.h"

namespace loamway {

enum class RoadSurface : std::uint8_t { asphalt, concrete, gravel, earth, field };
constexpr std::size_t road_surface_count = 5;
constexpr std::array<std::string_view, road_surface_count> road_surface_names{"asphalt", "concrete", "gravel",
                                                                              "earth", "field"};

[[nodiscard]] constexpr std::string_view name_of(RoadSurface s) {
    return road_surface_names[static_cast<std::size_t>(s)];
}

/// The ground of that name; "hard" is asphalt. Empty for any other word.
[[nodiscard]] std::optional<RoadSurface> road_surface_named(std::string_view name);

/// What a surface class stands for: hard is asphalt.
[[nodiscard]] RoadSurface road_surface_of(SurfaceClass c);
/// Asphalt and concrete are hard, a field is earth.
[[nodiscard]] SurfaceClass class_of(RoadSurface s);

}  // namespace loamway

#endif
