// SPDX-License-Identifier: Apache-2.0
// What sheets and pages draw under the roads: areas as their outer rings, lines, and one point for each
// building near a road.
#include <algorithm>
#include <numeric>

#include "assembly.h"
#include "map_areas.h"
#include "road_segments.h"

namespace loamway {

namespace {

constexpr double building_reach_m = 100.0;

/// The kinds a shape is drawn as; a forest in a residential area may be both.
template <class Visit>
void for_kinds(std::uint32_t features, Visit visit) {
    if ((features & map_feature::water_area) != 0)
        visit(BackgroundKind::water_area, true);
    if ((features & map_feature::built_up) != 0)
        visit(BackgroundKind::built_up_area, true);
    if ((features & map_feature::forest) != 0)
        visit(BackgroundKind::forest_area, true);
    if ((features & map_feature::river_line) != 0 && (features & map_feature::under_ground) == 0)
        visit(BackgroundKind::river_line, false);
    if ((features & map_feature::railway_line) != 0 && (features & map_feature::under_ground) == 0)
        visit(BackgroundKind::railway_line, false);
}

void add_shape(Assembly& a, BackgroundKind kind, std::span<const GeoPoint> points, std::string_view name) {
    const auto first = static_cast<std::uint32_t>(a.out.background_points.size() / 2);
    for (const GeoPoint p : points) {
        a.out.background_points.push_back(p.lat_e7);
        a.out.background_points.push_back(p.lon_e7);
    }
    a.out.background.push_back({kind, first, static_cast<std::uint32_t>(points.size()), a.texts.add(name)});
}

/// The mean of the corners, each counted once.
GeoPoint mean_of(std::span<const GeoPoint> ring) {
    if (ring.size() > 1 && ring.front() == ring.back())
        ring = ring.first(ring.size() - 1);
    std::int64_t lat = 0;
    std::int64_t lon = 0;
    for (const GeoPoint p : ring) {
        lat += p.lat_e7;
        lon += p.lon_e7;
    }
    const auto count = static_cast<std::int64_t>(ring.size());
    return {static_cast<std::int32_t>(lat / count), static_cast<std::int32_t>(lon / count)};
}

void draw_shapes(Assembly& a, const MapAreas& areas) {
    areas.for_each(map_feature::drawn, [&](const MapShape& shape) {
        if (!shape.is_outer)
            return;
        const std::vector<GeoPoint> points = areas.points(shape);
        const std::string_view name = a.tags(shape.tags).get("name").value_or("");
        for_kinds(shape.features, [&](BackgroundKind kind, bool is_area) {
            if (is_area ? shape.closed : points.size() >= 2)
                add_shape(a, kind, points, name);
        });
    });
}

void draw_buildings(Assembly& a, const MapAreas& areas, const RoadSegments& roads) {
    areas.for_each(map_feature::building, [&](const MapShape& shape) {
        const std::vector<GeoPoint> points = areas.points(shape);
        if (!shape.is_outer || points.empty())
            return;
        const GeoPoint middle = mean_of(points);
        if (roads.any_within(middle, building_reach_m))
            add_shape(a, BackgroundKind::building_near_road, std::span(&middle, 1), "");
    });
}

}  // namespace

void draw_background(Assembly& a, const MapAreas& areas, const RoadSegments& roads) {
    draw_shapes(a, areas);
    draw_buildings(a, areas, roads);
}

}  // namespace loamway
