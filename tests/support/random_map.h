// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_RANDOM_MAP_H
#define LOAMWAY_TESTS_SUPPORT_RANDOM_MAP_H

// Small random road networks with everything that makes routing hard: one-way roads, turn restrictions,
// private stretches, blocked nodes, dead ends, parallel roads, roads of no length. Fixed by a seed.

#include <cstdint>
#include <vector>

#include "loamway/tags/vehicle.h"
#include "support/test_random.h"
#include "support/tiny_region.h"

namespace loamway {

/// A tracked machine small and light enough for every road these maps draw without a limit.
inline VehicleView small_tractor() {
    VehicleView v;
    v.width = Length::from_metres(2.8);
    v.height = Length::from_metres(3.4);
    v.length = Length::from_metres(7);
    v.mass = v.axle = Mass::from_tonnes(16);
    v.top_speed = Speed::from_kmh(40);
    return v;
}

inline TinyTags random_road_tags(TestRandom& random) {
    TinyTags tags{{"highway", random.chance(30) ? "track" : random.chance(50) ? "unclassified" : "tertiary"}};
    if (random.chance(15))
        tags.emplace_back("oneway", random.chance(70) ? "yes" : "-1");
    if (random.chance(12))
        tags.emplace_back("access", random.chance(50) ? "private" : "destination");
    else if (random.chance(4))
        tags.emplace_back("access", "no");
    return tags;
}

/// A grid of `rows` x `columns` nodes with some roads missing, some doubled.
inline RegionData random_region_data(std::uint64_t seed, std::uint32_t rows, std::uint32_t columns) {
    TestRandom random(seed);
    TinyMap map;
    std::vector<GeoPoint> points;
    for (std::uint32_t r = 0; r < rows; ++r)
        for (std::uint32_t c = 0; c < columns; ++c)
            points.push_back(
                c > 0 && random.chance(4)  // a road of no length between two nodes
                    ? points.back()
                    : GeoPoint{530000000 + static_cast<std::int32_t>(r * 20000 + random.below(8000)),
                               130000000 + static_cast<std::int32_t>(c * 30000 + random.below(9000))});
    std::vector<NodeId> nodes;
    for (const GeoPoint& p : points)
        nodes.push_back(map.node(p));
    std::vector<std::vector<EdgeId>> at_node(nodes.size());
    const auto join = [&](std::uint32_t a, std::uint32_t b) {
        const std::uint8_t hard = static_cast<std::uint8_t>(random.below(201));
        TinyEdge e;
        e.tags = random_road_tags(random);
        e.odds = {hard, static_cast<std::uint8_t>(200 - hard), 0};
        e.known = false;
        if (random.chance(20))
            e.winding_dm = random.below(40000);
        const EdgeId id = map.road(nodes[a], nodes[b], e);
        at_node[a].push_back(id);
        at_node[b].push_back(id);
    };
    for (std::uint32_t r = 0; r < rows; ++r)
        for (std::uint32_t c = 0; c < columns; ++c) {
            const std::uint32_t n = r * columns + c;
            if (c + 1 < columns && !random.chance(12))
                join(n, n + 1);
            if (r + 1 < rows && !random.chance(12))
                join(n, n + columns);
            if (r + 1 < rows && c + 1 < columns && random.chance(10))
                join(n, n + columns + 1);
            if (c + 1 < columns && random.chance(4))
                join(n, n + 1);
        }
    for (std::uint32_t n = 0; n < nodes.size(); ++n) {
        if (at_node[n].size() >= 2 && random.chance(25)) {
            const EdgeId from = at_node[n][random.below(static_cast<std::uint32_t>(at_node[n].size()))];
            const EdgeId to = at_node[n][random.below(static_cast<std::uint32_t>(at_node[n].size()))];
            const bool only = random.chance(25);
            map.restriction({from, to}, nodes[n], only,
                            {{"restriction", only ? "only_straight_on" : "no_left_turn"}});
        }
        if (random.chance(3))
            map.node_tags(nodes[n], {{"barrier", "bollard"}});
    }
    return map.build();
}

inline Region random_region(std::uint64_t seed, std::uint32_t rows, std::uint32_t columns) {
    return Region::from_data(random_region_data(seed, rows, columns));
}

}  // namespace loamway

#endif
