// SPDX-License-Identifier: Apache-2.0
#include "area_index.h"

#include <algorithm>
#include <cmath>

namespace loamway {

namespace {

constexpr std::uint32_t sides_a_band = 4;
constexpr std::int64_t cell_e7 = 100'000;  // about a kilometre
constexpr std::int64_t max_cells = 1 << 20;

/// Whether the ray from p to the east crosses the side; exact in integers.
bool ray_crosses(GeoPoint p, GeoPoint a, GeoPoint b) {
    if ((a.lat_e7 > p.lat_e7) == (b.lat_e7 > p.lat_e7))
        return false;
    const std::int64_t side = (std::int64_t{b.lon_e7} - a.lon_e7) * (std::int64_t{p.lat_e7} - a.lat_e7) -
                              (std::int64_t{p.lon_e7} - a.lon_e7) * (std::int64_t{b.lat_e7} - a.lat_e7);
    return b.lat_e7 > a.lat_e7 ? side > 0 : side < 0;
}

}  // namespace

void AreaIndex::begin_area() {
    m_areas.emplace_back();
    m_areas.back().side_first = static_cast<std::uint32_t>(m_sides.size());
}

void AreaIndex::add_ring(std::span<const GeoPoint> closed_ring) {
    Area& area = m_areas.back();
    for (std::size_t i = 1; i < closed_ring.size(); ++i) {
        m_sides.push_back({closed_ring[i - 1], closed_ring[i]});
        ++area.side_count;
        area.box.add(closed_ring[i - 1]);
        area.box.add(closed_ring[i]);
    }
}

std::uint32_t AreaIndex::band_of(const Area& area, std::int64_t lat) {
    const std::int64_t height = (area.box.max_lat - area.box.min_lat) / area.bands + 1;
    return static_cast<std::uint32_t>((lat - area.box.min_lat) / height);
}

/// About four sides a band; fewer bands where long sides would stand in many of them, so that the lists stay
/// proportional to the number of sides.
void AreaIndex::sort_into_bands(Area& area) {
    double heights = 0.0;  // of all sides, in heights of the area
    for (std::uint32_t s = area.side_first; s < area.side_first + area.side_count; ++s)
        heights += std::abs(static_cast<double>(m_sides[s].a.lat_e7) - m_sides[s].b.lat_e7);
    heights /= static_cast<double>(area.box.max_lat - area.box.min_lat) + 1.0;
    const double most = 4.0 * area.side_count / std::max(heights, 1.0);
    area.bands = std::max(1u, std::min(area.side_count / sides_a_band, static_cast<std::uint32_t>(most)));
    area.band_first = static_cast<std::uint32_t>(m_band_first.size());
    std::vector<std::uint32_t> count(area.bands + 1, 0);
    const auto for_bands = [&](std::uint32_t s, auto visit) {
        const auto [low, high] = std::minmax(m_sides[s].a.lat_e7, m_sides[s].b.lat_e7);
        for (std::uint32_t b = band_of(area, low); b <= band_of(area, high); ++b)
            visit(b);
    };
    const std::uint32_t end = area.side_first + area.side_count;
    for (std::uint32_t s = area.side_first; s < end; ++s)
        for_bands(s, [&](std::uint32_t b) { ++count[b + 1]; });
    const auto base = static_cast<std::uint32_t>(m_band_sides.size());
    count[0] = base;
    for (std::uint32_t b = 0; b < area.bands; ++b)
        count[b + 1] += count[b];
    m_band_first.insert(m_band_first.end(), count.begin(), count.end());
    m_band_sides.resize(count.back());
    for (std::uint32_t s = area.side_first; s < end; ++s)
        for_bands(s, [&](std::uint32_t b) { m_band_sides[count[b]++] = s; });
}

void AreaIndex::finish() {
    MapBox bounds;
    for (Area& area : m_areas) {
        if (area.side_count == 0)
            continue;
        sort_into_bands(area);
        bounds.add(
            {static_cast<std::int32_t>(area.box.min_lat), static_cast<std::int32_t>(area.box.min_lon)});
        bounds.add(
            {static_cast<std::int32_t>(area.box.max_lat), static_cast<std::int32_t>(area.box.max_lon)});
    }
    m_grid.fill(bounds, cell_e7, max_cells, static_cast<std::uint32_t>(m_areas.size()),
                [this](std::uint32_t i, auto visit) {
                    if (m_areas[i].side_count > 0)
                        visit(m_areas[i].box);
                });
}

bool AreaIndex::area_contains(const Area& area, GeoPoint p) const {
    if (!area.box.contains(p))
        return false;
    const std::uint32_t band = area.band_first + band_of(area, p.lat_e7);
    bool inside = false;
    for (std::uint32_t i = m_band_first[band]; i < m_band_first[band + 1]; ++i) {
        const Side& side = m_sides[m_band_sides[i]];
        inside ^= ray_crosses(p, side.a, side.b);
    }
    return inside;
}

bool AreaIndex::contains(GeoPoint p) const {
    bool found = false;
    m_grid.visit(MapBox::of(p, p), [&](std::uint32_t i) { found = found || area_contains(m_areas[i], p); });
    return found;
}

}  // namespace loamway
