// SPDX-License-Identifier: Apache-2.0
// Names to travel to: from nodes, and from farmyards and places drawn as areas (their middle).
#include <algorithm>
#include <tuple>

#include "assembly.h"
#include "map_areas.h"

namespace loamway {

namespace {

/// Middle of the nodes' box, in whole steps: good enough for a name, and the same on every machine.
GeoPoint middle_of(std::span<const GeoPoint> points) {
    MapBox box;
    for (const GeoPoint p : points)
        box.add(p);
    return {static_cast<std::int32_t>((box.min_lat + box.max_lat) / 2),
            static_cast<std::int32_t>((box.min_lon + box.max_lon) / 2)};
}

}  // namespace

void collect_places(Assembly& a, const MapAreas& areas) {
    const auto add = [&](GeoPoint p, const TagView& tags) {
        const auto name = tags.get("name");
        const auto kind = place_kind_of(tags);
        if (name && !name->empty() && kind)
            a.out.places.push_back({p.lat_e7, p.lon_e7, *kind, a.texts.add(*name)});
    };
    for (const RawMap::Node& n : a.map.tagged_nodes)
        add(n.point, a.tags(n.tags));
    areas.for_each(map_feature::farmyard | map_feature::built_up, [&](const MapShape& shape) {
        const TagView tags = a.tags(shape.tags);
        const std::vector<GeoPoint> points = areas.points(shape);
        const bool is_place = tags.has("place") || (shape.features & map_feature::farmyard) != 0;
        if (shape.is_outer && is_place && !points.empty())
            add(middle_of(points), tags);
    });
    // The larger kind first, then by name: a list that reads well and does not depend on ids.
    const auto key = [&](const PlaceRecord& p) {
        return std::tuple(p.kind, a.texts.get(p.name), p.lat_e7, p.lon_e7);
    };
    std::sort(a.out.places.begin(), a.out.places.end(),
              [&](const PlaceRecord& x, const PlaceRecord& y) { return key(x) < key(y); });
    const auto repeats =
        std::unique(a.out.places.begin(), a.out.places.end(),
                    [&](const PlaceRecord& x, const PlaceRecord& y) { return key(x) == key(y); });
    a.out.places.erase(repeats, a.out.places.end());
}

}  // namespace loamway
