// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_TILE_LAYER_H
#define LOAMWAY_SRC_WEB_TILE_LAYER_H

// One layer of a vector tile, feature by feature. Can be copied to try how large it grows.

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "tile_geometry.h"
#include "tile_rings.h"

namespace loamway {

class TileLayer {
public:
    explicit TileLayer(std::string_view name) : m_name(name) {}

    /// Properties of the next feature. Text is made valid UTF-8.
    TileLayer& text(std::string_view key, std::string_view value);
    TileLayer& flag(std::string_view key, bool value);
    TileLayer& number(std::string_view key, std::int64_t value);

    /// Ends the feature; nothing is written for an empty geometry.
    void points(std::span<const TilePoint> points);
    void lines(std::span<const TileLine> lines);
    void polygons(std::span<const TilePolygon> polygons);

    [[nodiscard]] std::size_t bytes() const { return m_features.size() + m_table_bytes; }
    /// As a part of the tile; nothing without features.
    void append_to(std::string& tile) const;

private:
    void property(std::string_view key, std::string coded_value);
    void feature(std::uint32_t type, std::span<const std::uint32_t> geometry);

    std::string m_name;
    std::string m_features;  // coded
    std::vector<std::string> m_keys, m_values;
    std::unordered_map<std::string, std::uint32_t> m_value_places;
    std::vector<std::uint32_t> m_tags;  // of the next feature
    std::size_t m_table_bytes = 0;
};

}  // namespace loamway

#endif
