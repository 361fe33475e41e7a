// SPDX-License-Identifier: Apache-2.0
#include "tile_layer.h"

#include <algorithm>
#include <protozero/pbf_writer.hpp>
#include <utility>

#include "loamway/base/names.h"

namespace loamway {

namespace {

// Field numbers and commands of Mapbox Vector Tile 2.1.
namespace field {
constexpr std::uint32_t tile_layer = 3;
constexpr std::uint32_t name = 1, feature = 2, key = 3, value = 4, extent = 5, version = 15;
constexpr std::uint32_t feature_tags = 2, feature_type = 3, feature_geometry = 4;
constexpr std::uint32_t text = 1, sint = 6, flag = 7;
}  // namespace field
constexpr std::uint32_t type_point = 1, type_line = 2, type_polygon = 3;

/// Commands with coordinates relative to the last point.
class Geometry {
public:
    void move_to(std::span<const TilePoint> points) { command(1, points); }
    void line_to(std::span<const TilePoint> points) { command(2, points); }
    void close() { m_numbers.push_back(7 | (1u << 3)); }
    void ring(const TileLine& ring) {
        move_to(std::span(ring).first(1));
        line_to(std::span(ring).subspan(1));
        close();
    }
    [[nodiscard]] const std::vector<std::uint32_t>& numbers() const { return m_numbers; }

private:
    void command(std::uint32_t id, std::span<const TilePoint> points) {
        m_numbers.push_back(id | (static_cast<std::uint32_t>(points.size()) << 3));
        for (const TilePoint& p : points) {
            m_numbers.push_back(protozero::encode_zigzag32(p.x - m_last.x));
            m_numbers.push_back(protozero::encode_zigzag32(p.y - m_last.y));
            m_last = p;
        }
    }
    std::vector<std::uint32_t> m_numbers;
    TilePoint m_last;
};

}  // namespace

TileLayer& TileLayer::text(std::string_view key, std::string_view value) {
    std::string coded;
    protozero::pbf_writer(coded).add_string(field::text, valid_utf8(value));
    property(key, std::move(coded));
    return *this;
}
TileLayer& TileLayer::flag(std::string_view key, bool value) {
    std::string coded;
    protozero::pbf_writer(coded).add_bool(field::flag, value);
    property(key, std::move(coded));
    return *this;
}
TileLayer& TileLayer::number(std::string_view key, std::int64_t value) {
    std::string coded;
    protozero::pbf_writer(coded).add_sint64(field::sint, value);
    property(key, std::move(coded));
    return *this;
}

void TileLayer::property(std::string_view key, std::string coded_value) {
    constexpr std::size_t framing = 3;
    const auto known = std::find(m_keys.begin(), m_keys.end(), key);
    m_tags.push_back(static_cast<std::uint32_t>(known - m_keys.begin()));
    if (known == m_keys.end())
        m_keys.emplace_back(key);
    const auto [at, is_new] =
        m_value_places.try_emplace(coded_value, static_cast<std::uint32_t>(m_values.size()));
    m_tags.push_back(at->second);
    if (is_new) {
        m_table_bytes += coded_value.size() + framing;
        m_values.push_back(std::move(coded_value));
    }
}

void TileLayer::points(std::span<const TilePoint> points) {
    Geometry g;
    if (!points.empty())
        g.move_to(points);
    feature(type_point, g.numbers());
}
void TileLayer::lines(std::span<const TileLine> lines) {
    Geometry g;
    for (const TileLine& line : lines) {
        g.move_to(std::span(line).first(1));
        g.line_to(std::span(line).subspan(1));
    }
    feature(type_line, g.numbers());
}
void TileLayer::polygons(std::span<const TilePolygon> polygons) {
    Geometry g;
    for (const TilePolygon& p : polygons) {
        g.ring(p.outer);
        for (const TileLine& hole : p.holes)
            g.ring(hole);
    }
    feature(type_polygon, g.numbers());
}

void TileLayer::feature(std::uint32_t type, std::span<const std::uint32_t> geometry) {
    if (!geometry.empty()) {
        std::string coded;
        protozero::pbf_writer f(coded);
        f.add_packed_uint32(field::feature_tags, m_tags.begin(), m_tags.end());
        f.add_enum(field::feature_type, static_cast<std::int32_t>(type));
        f.add_packed_uint32(field::feature_geometry, geometry.begin(), geometry.end());
        protozero::pbf_writer(m_features).add_message(field::feature, coded);
    }
    m_tags.clear();
}

void TileLayer::append_to(std::string& tile) const {
    if (m_features.empty())
        return;
    std::string coded;
    protozero::pbf_writer layer(coded);
    layer.add_uint32(field::version, 2);
    layer.add_string(field::name, m_name);
    coded += m_features;
    for (const std::string& key : m_keys)
        layer.add_string(field::key, key);
    for (const std::string& value : m_values)
        layer.add_message(field::value, value);
    layer.add_uint32(field::extent, tile_extent);
    protozero::pbf_writer(tile).add_message(field::tile_layer, coded);
}

}  // namespace loamway
