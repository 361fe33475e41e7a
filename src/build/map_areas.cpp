// SPDX-License-Identifier: Apache-2.0
#include "map_areas.h"

#include <algorithm>
#include <optional>

namespace loamway {

namespace {

const RawMap::Way* find_way(const std::vector<RawMap::Way>& ways, std::int64_t id) {
    const auto at = std::lower_bound(ways.begin(), ways.end(), id,
                                     [](const RawMap::Way& w, std::int64_t wanted) { return w.id < wanted; });
    return at != ways.end() && at->id == id ? &*at : nullptr;
}

/// The nodes of a member way; nothing when the extract lacks it or one of its nodes.
std::optional<std::span<const std::uint32_t>> member_nodes(const Assembly& a, std::int64_t id) {
    const RawMap::Way* way = find_way(a.map.areas, id);
    if (way == nullptr)
        way = find_way(a.map.roads, id);
    if (way == nullptr)
        return std::nullopt;
    const std::span<const std::uint32_t> nodes(a.ref_node.data() + way->ref_first, way->ref_count);
    if (std::find(nodes.begin(), nodes.end(), no_index) != nodes.end())
        return std::nullopt;
    return nodes;
}

}  // namespace

MapAreas::MapAreas(Assembly& a) : m_a(a) {
    m_features.resize(a.map.tags.size());
    const auto read = [&](std::uint32_t tags) {
        if (m_features[tags] == 0)
            m_features[tags] = features_of(a.tags(tags));
    };
    for (const RawMap::Way& way : a.map.areas)
        read(way.tags);
    for (const RawMap::Relation& r : a.map.multipolygons)
        read(r.tags);
    join_multipolygons(a);
    for_each(map_feature::area, [&](const MapShape& shape) {
        if (std::find(shape.nodes.begin(), shape.nodes.end(), no_index) != shape.nodes.end())
            a.counts.add("areas cut where the extract lacks nodes");
    });
}

void MapAreas::join_multipolygons(Assembly& a) {
    for (std::uint32_t r = 0; r < a.map.multipolygons.size(); ++r)
        join_one(a, r);
}

void MapAreas::join_one(Assembly& a, std::uint32_t relation) {
    std::vector<std::span<const std::uint32_t>> outer;
    std::vector<std::span<const std::uint32_t>> inner;
    for (const RawMap::Member& m : a.map.multipolygons[relation].members) {
        const std::string_view role = a.map.strings.get(m.role);
        if (m.type != 'w' || (role != "outer" && role != "inner" && !role.empty()))
            continue;
        if (const auto nodes = member_nodes(a, m.ref))
            (role == "inner" ? inner : outer).push_back(*nodes);
        else
            a.counts.add("multipolygon pieces that are not whole in the extract");
    }
    for (const bool is_outer : {true, false}) {
        JoinedRings joined = join_rings(is_outer ? outer : inner);
        a.counts.add("multipolygon rings that do not close", joined.unclosed);
        for (NodeList& ring : joined.rings)
            m_rings.push_back({relation, is_outer, std::move(ring)});
    }
}

std::vector<GeoPoint> MapAreas::points(const MapShape& shape) const {
    std::vector<GeoPoint> points;
    points.reserve(shape.nodes.size());
    for (const std::uint32_t node : shape.nodes)
        if (node != no_index)
            points.push_back(m_a.map.node_points[node]);
    return points;
}

AreaIndex MapAreas::index(std::uint32_t features) const {
    AreaIndex index;
    std::int64_t relation = 0;
    bool in_relation = false;
    for_each(features, [&](const MapShape& shape) {
        if (!shape.closed)
            return;
        // Rings of one multipolygon follow each other and make one area with its holes.
        if (!shape.is_relation || !in_relation || shape.id != relation)
            index.begin_area();
        in_relation = shape.is_relation;
        relation = shape.id;
        index.add_ring(points(shape));
    });
    index.finish();
    return index;
}

}  // namespace loamway
