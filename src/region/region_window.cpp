// SPDX-License-Identifier: Apache-2.0
#include "loamway/region/region_window.h"

#include <algorithm>
#include <string_view>

namespace loamway {

namespace {

struct Cells {
    std::int64_t first = 0, last = -1;
    [[nodiscard]] bool empty() const { return last < first; }
};

/// The cells of one axis between two values.
Cells cells_between(std::int64_t low, std::int64_t high, std::int64_t origin, std::int64_t cell,
                    std::int64_t count) {
    if (count <= 0 || high < origin || low >= origin + cell * count)
        return {};
    return {std::max<std::int64_t>(0, (low - origin) / cell),
            std::min<std::int64_t>(count - 1, (high - origin) / cell)};
}

std::uint8_t rank_of(std::string_view highway) {
    constexpr std::string_view link = "_link";
    if (highway.ends_with(link))
        highway.remove_suffix(link.size());
    if (highway == "motorway" || highway == "trunk")
        return 0;
    if (highway == "primary")
        return 1;
    if (highway == "secondary")
        return 2;
    if (highway == "tertiary")
        return 3;
    if (highway == "unclassified" || highway == "residential" || highway == "road" ||
        highway == "living_street")
        return 4;
    return 5;
}

}  // namespace

void GeoBox::add(GeoPoint p) {
    low = {std::min(low.lat_e7, p.lat_e7), std::min(low.lon_e7, p.lon_e7)};
    high = {std::max(high.lat_e7, p.lat_e7), std::max(high.lon_e7, p.lon_e7)};
}

std::vector<std::uint32_t> edges_around(const RegionView& region, const GeoBox& box) {
    const auto& grid = region.grid_header;
    if (grid.size() < 5 || grid[2] <= 0)
        return {};
    const std::int64_t columns = grid[4];
    const Cells down = cells_between(box.low.lat_e7, box.high.lat_e7, grid[0], grid[2], grid[3]);
    const Cells across = cells_between(box.low.lon_e7, box.high.lon_e7, grid[1], grid[2], columns);
    std::vector<std::uint32_t> out;
    if (down.empty() || across.empty())
        return out;
    for (std::int64_t row = down.first; row <= down.last; ++row) {
        // The cells of a row lie one after the other.
        const auto from = region.grid_first[static_cast<std::size_t>(row * columns + across.first)];
        const auto to = region.grid_first[static_cast<std::size_t>(row * columns + across.last) + 1];
        out.insert(out.end(), region.grid_edges.begin() + from, region.grid_edges.begin() + to);
    }
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

std::uint8_t road_rank(const RegionView& region, std::uint32_t tag_set) {
    for (std::uint32_t i = region.tag_set_first[tag_set]; i + 1 < region.tag_set_first[tag_set + 1]; i += 2)
        if (region.string(region.tag_set_strings[i]) == "highway")
            return rank_of(region.string(region.tag_set_strings[i + 1]));
    return road_rank_count - 1;
}

std::vector<GeoPoint> points_of(const RegionView& region, const BackgroundRecord& background) {
    std::vector<GeoPoint> out;
    out.reserve(background.point_count);
    for (std::uint32_t i = background.point_first; i < background.point_first + background.point_count; ++i)
        out.push_back({region.background_points[2 * i], region.background_points[2 * i + 1]});
    return out;
}

}  // namespace loamway
