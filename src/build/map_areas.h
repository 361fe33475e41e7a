// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_MAP_AREAS_H
#define LOAMWAY_SRC_BUILD_MAP_AREAS_H

// The map besides its roads, as shapes: ways with features of their own, and multipolygons put together.

#include <cstdint>
#include <span>
#include <vector>

#include "area_index.h"
#include "area_rings.h"
#include "assembly.h"
#include "map_features.h"

namespace loamway {

struct MapShape {
    std::int64_t id;  // of the way or relation
    bool is_relation;
    bool is_outer;  // false: a hole
    bool closed;    // false: a line, or an area that the extract cuts off
    std::uint32_t features;
    std::uint32_t tags;                    // list in RawMap::tags
    std::span<const std::uint32_t> nodes;  // map nodes or no_index
};

class MapAreas {
public:
    explicit MapAreas(Assembly& a);

    /// Every way with one of the features, then every ring of such multipolygons, ascending by id.
    template <class Visit>
    void for_each(std::uint32_t features, Visit visit) const;
    /// Every side of such shapes, as two points.
    template <class Visit>
    void for_each_side(std::uint32_t features, Visit visit) const;

    /// An index of the closed shapes with one of the features.
    [[nodiscard]] AreaIndex index(std::uint32_t features) const;
    [[nodiscard]] std::vector<GeoPoint> points(const MapShape& shape) const;

private:
    struct Ring {
        std::uint32_t relation;
        bool is_outer;
        NodeList nodes;
    };
    void join_multipolygons(Assembly& a);
    void join_one(Assembly& a, std::uint32_t relation);

    const Assembly& m_a;
    std::vector<std::uint32_t> m_features;  // of each list of tags
    std::vector<Ring> m_rings;
};

template <class Visit>
void MapAreas::for_each(std::uint32_t features, Visit visit) const {
    for (const RawMap::Way& way : m_a.map.areas) {
        if ((m_features[way.tags] & features) == 0)
            continue;
        const std::span<const std::uint32_t> nodes(m_a.ref_node.data() + way.ref_first, way.ref_count);
        const bool closed = nodes.size() >= 4 && nodes.front() == nodes.back() &&
                            std::find(nodes.begin(), nodes.end(), no_index) == nodes.end();
        visit(MapShape{way.id, false, true, closed, m_features[way.tags], way.tags, nodes});
    }
    for (const Ring& ring : m_rings) {
        const RawMap::Relation& r = m_a.map.multipolygons[ring.relation];
        if ((m_features[r.tags] & features) != 0)
            visit(MapShape{r.id, true, ring.is_outer, true, m_features[r.tags], r.tags, ring.nodes});
    }
}

template <class Visit>
void MapAreas::for_each_side(std::uint32_t features, Visit visit) const {
    for_each(features, [&](const MapShape& shape) {
        for (std::size_t i = 1; i < shape.nodes.size(); ++i)
            if (shape.nodes[i - 1] != no_index && shape.nodes[i] != no_index)
                visit(shape, m_a.map.node_points[shape.nodes[i - 1]], m_a.map.node_points[shape.nodes[i]]);
    });
}

}  // namespace loamway

#endif
