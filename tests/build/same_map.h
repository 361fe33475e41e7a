// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BUILD_SAME_MAP_H
#define LOAMWAY_TESTS_BUILD_SAME_MAP_H

#include <gtest/gtest.h>

#include <tuple>

#include "loamway/build/build.h"

namespace loamway::test {

/// Everything but the source's digest.
inline void expect_same_map(const RawMap& a, const RawMap& b) {
    EXPECT_EQ(a.strings.first(), b.strings.first());
    EXPECT_EQ(a.strings.bytes(), b.strings.bytes());
    ASSERT_EQ(a.tags.size(), b.tags.size());
    for (std::uint32_t i = 0; i < a.tags.size(); ++i)
        ASSERT_TRUE(std::ranges::equal(a.tags.get(i), b.tags.get(i))) << i;
    const auto ways = [](const std::vector<RawMap::Way>& list) {
        std::vector<std::tuple<std::int64_t, std::uint32_t, std::uint32_t, std::uint32_t>> plain;
        for (const RawMap::Way& w : list)
            plain.emplace_back(w.id, w.ref_first, w.ref_count, w.tags);
        return plain;
    };
    EXPECT_EQ(ways(a.roads), ways(b.roads));
    EXPECT_EQ(ways(a.areas), ways(b.areas));
    EXPECT_EQ(a.refs, b.refs);
    EXPECT_EQ(a.ref_nodes, b.ref_nodes);
    const auto nodes = [](const RawMap& map) {
        std::vector<std::tuple<std::int64_t, GeoPoint, std::uint32_t>> plain;
        for (const RawMap::Node& n : map.tagged_nodes)
            plain.emplace_back(n.id, n.point, n.tags);
        return plain;
    };
    EXPECT_EQ(nodes(a), nodes(b));
    EXPECT_EQ(a.node_ids, b.node_ids);
    EXPECT_EQ(a.node_points, b.node_points);
    EXPECT_EQ(a.node_found, b.node_found);
    const auto relations = [](const std::vector<RawMap::Relation>& list) {
        std::vector<std::tuple<std::int64_t, std::uint32_t, char, std::int64_t, std::uint32_t>> plain;
        for (const RawMap::Relation& r : list) {
            plain.emplace_back(r.id, r.tags, ' ', 0, 0);
            for (const RawMap::Member& m : r.members)
                plain.emplace_back(r.id, r.tags, m.type, m.ref, m.role);
        }
        return plain;
    };
    EXPECT_EQ(relations(a.restrictions), relations(b.restrictions));
    EXPECT_EQ(relations(a.multipolygons), relations(b.multipolygons));
    EXPECT_EQ(a.nodes_read, b.nodes_read);
    EXPECT_EQ(a.ways_read, b.ways_read);
    EXPECT_EQ(a.relations_read, b.relations_read);
    EXPECT_EQ(a.map_date, b.map_date);
    const auto counts = [](const RawMap& map) {
        std::vector<std::pair<std::string, std::int64_t>> plain;
        for (const BuildCount& c : map.counts)
            plain.emplace_back(c.what, c.count);
        return plain;
    };
    EXPECT_EQ(counts(a), counts(b));
}

}  // namespace loamway::test

#endif
