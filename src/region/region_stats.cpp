// SPDX-License-Identifier: Apache-2.0
#include "loamway/region/region_stats.h"

#include <algorithm>
#include <functional>

namespace loamway {
namespace {

constexpr std::size_t components_listed = 5;

/// Sums in decimetres, and in decimetres times probability steps, so that no metre is lost to rounding.
struct ClassSum {
    std::uint64_t known_dm = 0;
    std::uint64_t assumed_dm_steps = 0;
    std::uint64_t likeliest_dm = 0;
};

Length from_dm(std::uint64_t dm) {
    return Length::from_decimetres(static_cast<std::int64_t>(dm));
}

std::array<SurfaceLength, surface_class_count> surface_lengths(const RegionView& view) {
    std::array<ClassSum, surface_class_count> sums;
    for (const EdgeRecord& e : view.edges) {
        ClassSum& likeliest = sums[static_cast<std::size_t>(e.odds.likeliest())];
        if ((e.flags & edge_flag::known) != 0) {
            likeliest.known_dm += e.length_dm;
            continue;
        }
        likeliest.likeliest_dm += e.length_dm;
        const std::array<std::uint64_t, surface_class_count> steps{e.odds.hard, e.odds.gravel, e.odds.earth};
        for (std::size_t c = 0; c < surface_class_count; ++c)
            sums[c].assumed_dm_steps += steps[c] * e.length_dm;
    }
    std::array<SurfaceLength, surface_class_count> result;
    for (std::size_t c = 0; c < surface_class_count; ++c)
        result[c] = {from_dm(sums[c].known_dm), from_dm(sums[c].assumed_dm_steps) / double{probability_steps},
                     from_dm(sums[c].likeliest_dm)};
    return result;
}

std::vector<std::uint64_t> component_lengths_dm(const RegionView& view) {
    std::vector<std::uint64_t> dm;
    if (!view.component.empty())
        dm.resize(std::size_t{*std::max_element(view.component.begin(), view.component.end())} + 1);
    for (const EdgeRecord& e : view.edges)
        dm[view.component[e.tail]] += e.length_dm;
    return dm;
}

Length length_with_heights(const RegionView& view) {
    std::uint64_t dm = 0;
    for (std::size_t e = 0; e < view.edge_climb.size(); ++e) {
        const std::size_t end =
            e + 1 < view.edge_climb.size() ? view.edge_climb[e + 1].height_first : view.heights.size();
        if (end > view.edge_climb[e].height_first)
            dm += view.edges[e].length_dm;
    }
    return from_dm(dm);
}

std::optional<RegionBounds> bounds_of(const RegionView& view) {
    if (view.node_count() == 0)
        return std::nullopt;
    constexpr std::int64_t half_world_e7 = 1'800'000'000;
    RegionBounds b{view.node_point(NodeId(0u)), view.node_point(NodeId(0u))};
    // Of the points east and west of Greenwich, those nearest to it.
    std::int64_t east_e7 = half_world_e7, west_e7 = -half_world_e7;
    const auto add = [&](GeoPoint p) {
        if (p.lon_e7 >= 0)
            east_e7 = std::min<std::int64_t>(east_e7, p.lon_e7);
        else
            west_e7 = std::max<std::int64_t>(west_e7, p.lon_e7);
        b.south_west = {std::min(b.south_west.lat_e7, p.lat_e7), std::min(b.south_west.lon_e7, p.lon_e7)};
        b.north_east = {std::max(b.north_east.lat_e7, p.lat_e7), std::max(b.north_east.lon_e7, p.lon_e7)};
    };
    for (std::size_t n = 0; n < view.node_count(); ++n)
        add(view.node_point(NodeId(n)));
    for (std::size_t e = 0; e < view.edge_count(); ++e)
        for (const GeoPoint p : view.edge_points(EdgeId(e)))
            add(p);
    const std::int64_t plain_e7 = std::int64_t{b.north_east.lon_e7} - b.south_west.lon_e7;
    if (plain_e7 > half_world_e7 && west_e7 + 2 * half_world_e7 - east_e7 < half_world_e7) {
        b.south_west.lon_e7 = static_cast<std::int32_t>(east_e7);
        b.north_east.lon_e7 = static_cast<std::int32_t>(west_e7);
    }
    return b;
}

}  // namespace

RegionStats region_stats(const RegionView& view) {
    RegionStats stats;
    stats.surface = surface_lengths(view);
    stats.with_heights = length_with_heights(view);
    stats.nodes = view.node_count();
    stats.edges = view.edge_count();
    stats.arcs = view.arcs.size();
    std::vector<std::uint64_t> components = component_lengths_dm(view);
    stats.components = components.size();
    std::uint64_t total = 0;
    for (const std::uint64_t dm : components)
        total += dm;
    stats.total = from_dm(total);
    const std::size_t listed = std::min(components.size(), components_listed);
    std::partial_sort(components.begin(), components.begin() + static_cast<std::ptrdiff_t>(listed),
                      components.end(), std::greater<>());
    for (std::size_t i = 0; i < listed; ++i)
        stats.largest_components.push_back(from_dm(components[i]));
    stats.bounds = bounds_of(view);
    return stats;
}

}  // namespace loamway
