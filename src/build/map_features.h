// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_MAP_FEATURES_H
#define LOAMWAY_SRC_BUILD_MAP_FEATURES_H

// What a way, area or node of the map is besides a road, read from its tags alone. Pure functions.

#include <cstdint>
#include <optional>
#include <string_view>

#include "loamway/region/region.h"
#include "loamway/tags/tag_view.h"

namespace loamway {

/// Bits of what features_of() returns.
namespace map_feature {
constexpr std::uint32_t water_area = 1u << 0;
constexpr std::uint32_t river_line = 1u << 1;   // rivers and canals: drawn
constexpr std::uint32_t stream_line = 1u << 2;  // streams: only kept away from
constexpr std::uint32_t wetland = 1u << 3;
constexpr std::uint32_t protection = 1u << 4;  // areas where no powder may be spilt
constexpr std::uint32_t built_up = 1u << 5;
constexpr std::uint32_t residential = 1u << 6;
constexpr std::uint32_t forest = 1u << 7;
constexpr std::uint32_t railway_line = 1u << 8;
constexpr std::uint32_t building = 1u << 9;
constexpr std::uint32_t power_line = 1u << 10;
constexpr std::uint32_t school = 1u << 11;
constexpr std::uint32_t rest_area = 1u << 12;
constexpr std::uint32_t services = 1u << 13;
constexpr std::uint32_t parking = 1u << 14;
constexpr std::uint32_t lay_by = 1u << 15;
constexpr std::uint32_t passing_place = 1u << 16;
constexpr std::uint32_t farmyard = 1u << 17;
constexpr std::uint32_t industrial = 1u << 18;
constexpr std::uint32_t under_ground = 1u << 19;  // in a tunnel or culvert

constexpr std::uint32_t stop_place =
    rest_area | services | parking | lay_by | passing_place | farmyard | industrial;
/// Kinds that mean an area; of such kinds multipolygon relations are kept.
constexpr std::uint32_t area = water_area | wetland | protection | built_up | residential | forest |
                               building | school | rest_area | services | parking | lay_by | farmyard |
                               industrial;
constexpr std::uint32_t drawn = water_area | river_line | built_up | forest | railway_line;
}  // namespace map_feature

[[nodiscard]] std::uint32_t features_of(const TagView& tags);

/// Whether a road keeps this key in the raw map: what road rules read, and what stop places are judged by.
[[nodiscard]] bool is_road_key(std::string_view key);
/// Whether an area, line or node keeps this key.
[[nodiscard]] bool is_feature_key(std::string_view key);

/// A named point to travel to; nothing for what is not one. Does not look at the name.
[[nodiscard]] std::optional<PlaceKind> place_kind_of(const TagView& tags);

}  // namespace loamway

#endif
