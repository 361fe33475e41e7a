// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/route.h"

#include <gtest/gtest.h>

#include "line_graph.h"
#include "support/plain_search.h"
#include "support/random_map.h"

namespace loamway {
namespace {

using namespace test;

TEST(Route, EqualsBoostDijkstraOnRandomNetworks) {
    int compared = 0, unreachable = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const Region region = random_region(seed, 5 + seed % 4, 6);
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        RouteFinder finder(roads);
        TestRandom random(seed * 977);
        for (int q = 0; q < 25; ++q) {
            const RoadPoint a = random_point(roads, random), b = random_point(roads, random);
            for (const auto& primary : {hard_weights(graph), length_weights(graph)}) {
                const auto route = finder.find(a, b, primary);
                const std::uint64_t expected = LineGraph(roads, a, b, primary).best();
                if (expected == unreached) {
                    EXPECT_FALSE(route) << "seed " << seed << " query " << q;
                    ++unreachable;
                    continue;
                }
                ASSERT_TRUE(route) << "seed " << seed << " query " << q;
                EXPECT_EQ((route->primary << 32) + route->length_dm, expected)
                    << "seed " << seed << " query " << q;
                check_route(roads, *route, primary);
                ++compared;
            }
        }
    }
    // The families must be worth comparing: most pairs connect and some do not.
    EXPECT_GT(compared, 1200);
    EXPECT_GT(unreachable, 20);
}

TEST(Route, CappedEqualsPlainLabelSetting) {
    int binding = 0, impossible = 0;
    for (std::uint64_t seed = 100; seed < 130; ++seed) {
        const Region region = random_region(seed, 6, 6);
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        RouteFinder finder(roads);
        TestRandom random(seed * 31);
        const auto hard = hard_weights(graph), length = length_weights(graph);
        for (int q = 0; q < 20; ++q) {
            const RoadPoint a = random_point(roads, random), b = random_point(roads, random);
            const auto shortest = finder.find(a, b, length);
            if (!shortest)
                continue;
            const std::uint64_t cap = shortest->length_dm + shortest->length_dm * random.below(30) / 100;
            const auto free = finder.find(a, b, hard);
            const auto route = finder.find(a, b, hard, cap);
            ASSERT_TRUE(route);
            check_route(roads, *route, hard);
            EXPECT_LE(route->length_dm, cap);
            EXPECT_EQ((route->primary << 32) + route->length_dm, best_within(roads, a, b, hard, cap))
                << "seed " << seed << " query " << q;
            binding += free->length_dm > cap ? 1 : 0;
            if (shortest->length_dm > 0) {
                impossible += finder.find(a, b, hard, shortest->length_dm - 1) ? 0 : 1;
            }
        }
    }
    EXPECT_GT(binding, 40);
    EXPECT_GT(impossible, 200);
}

TEST(Route, PrivateGroundOnlyAtTheEnds) {
    // a -- b -- c straight through private ground, or round by d.
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.21), c = m.node(53.50, 13.22),
                 d = m.node(53.51, 13.21), e = m.node(53.50, 13.23);
    const EdgeId ab = m.edge(a, b, {{"highway", "unclassified"}});
    const EdgeId bc = m.edge(b, c, {{"highway", "service"}, {"access", "private"}});
    m.edge(b, d, {{"highway", "unclassified"}});
    m.edge(d, c, {{"highway", "unclassified"}});
    const EdgeId ce = m.edge(c, e, {{"highway", "unclassified"}});
    const Region region = Region::from_data(m.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    RouteFinder finder(roads);
    const auto at = [](EdgeId edge, std::uint32_t offset) {
        RoadPoint p;
        p.edge = edge;
        p.offset_dm = offset;
        return p;
    };
    const auto through = finder.find(at(ab, 0), at(ce, 100), length_weights(graph));
    ASSERT_TRUE(through);
    EXPECT_EQ(through->pieces.size(), 4u);  // round by d
    const auto into = finder.find(at(ab, 0), at(bc, 1000), length_weights(graph));
    ASSERT_TRUE(into);
    EXPECT_EQ(into->pieces.size(), 2u);  // private ground as the last stretch
}

TEST(Route, TurnsRoundOnlyAtTheEndOfARoad) {
    // A restriction forbids the left turn; the only other way is to the dead end and back.
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.21), c = m.node(53.51, 13.21),
                 d = m.node(53.50, 13.22);
    const EdgeId ab = m.edge(a, b), bc = m.edge(b, c), bd = m.edge(b, d);
    m.restriction({ab, bc}, b, false, {{"restriction", "no_left_turn"}});
    const Region region = Region::from_data(m.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    RoadPoint from, to;
    from.edge = ab;
    to.edge = bc;
    to.offset_dm = 500;
    const auto route = RouteFinder(roads).find(from, to, length_weights(graph));
    ASSERT_TRUE(route);
    ASSERT_EQ(route->pieces.size(), 4u);
    EXPECT_EQ(graph.edge_of(route->pieces[1].arc), bd);
    EXPECT_EQ(graph.edge_of(route->pieces[2].arc), bd);
}

// Roads of no length made a ring of states that each named the next as the one before, when their numbers lay
// so; putting the route together never ended.
TEST(Route, ARingOfRoadsWithoutLengthIsLeftAgain) {
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.21), c = m.node(53.51, 13.21),
                 d = m.node(53.50, 13.19), e = m.node(53.50, 13.23);
    TinyEdge none;
    none.tags = {{"highway", "unclassified"}};
    none.length_dm = 0;
    m.road(a, b, none);
    m.road(b, c, none);
    m.road(c, a, none);
    const EdgeId in = m.edge(d, a, {{"highway", "unclassified"}}),
                 out = m.edge(b, e, {{"highway", "unclassified"}});
    const Region region = Region::from_data(m.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    RoadPoint from, to;
    from.edge = in;
    to.edge = out;
    to.offset_dm = 500;
    const auto route = RouteFinder(roads).find(from, to, length_weights(graph));
    ASSERT_TRUE(route);
    check_route(roads, *route, length_weights(graph));
    EXPECT_EQ(route->pieces.size(), 3u);
}

TEST(Route, SharesOfAnArcAddUp) {
    TestRandom random(5);
    for (int i = 0; i < 2000; ++i) {
        const std::uint32_t length = 1 + random.below(100000), weight = random.below(20000000);
        const std::uint32_t cut = random.below(length + 1);
        EXPECT_EQ(weight_between(weight, length, 0, cut) + weight_between(weight, length, cut, length),
                  weight);
    }
}

}  // namespace
}  // namespace loamway
