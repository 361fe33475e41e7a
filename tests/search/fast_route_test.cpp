// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/fast_route.h"

#include <gtest/gtest.h>

#include <map>

#include "hierarchy_networks.h"
#include "support/random_points.h"

// RouteFinder, itself compared with Boost.Graph, is the oracle.

namespace loamway {
namespace {

using test::random_point;

const VehicleView tractor = [] {
    VehicleView v;
    v.width = Length::from_metres(2.8);
    v.height = Length::from_metres(3.4);
    v.length = Length::from_metres(7);
    v.mass = Mass::from_tonnes(16);
    v.axle = Mass::from_tonnes(16);
    v.top_speed = Speed::from_kmh(40);
    return v;
}();

std::vector<std::uint32_t> primary_weights(const RoadGraph& graph, bool hard) {
    std::vector<std::uint32_t> w(graph.arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = graph.arc(ArcId{a}).length_dm * (hard ? graph.edge(ArcId{a}).odds.hard : 1u);
    return w;
}

/// Drivable piece by piece, with the sums it claims.
void expect_drivable(const VehicleRoads& roads, const Route& route,
                     const std::vector<std::uint32_t>& primary) {
    const RoadGraph& graph = roads.graph();
    std::uint64_t weight = 0, length = 0;
    int changes = 0;
    for (std::size_t i = 0; i < route.pieces.size(); ++i) {
        const RoutePiece& p = route.pieces[i];
        ASSERT_TRUE(roads.open(p.arc));
        ASSERT_LE(p.from_dm, p.to_dm);
        weight += weight_between(primary[p.arc.index()], graph.arc(p.arc).length_dm, p.from_dm, p.to_dm);
        length += p.length_dm();
        if (i == 0)
            continue;
        const RoutePiece& before = route.pieces[i - 1];
        ASSERT_EQ(before.to_dm, graph.arc(before.arc).length_dm);
        ASSERT_EQ(p.from_dm, 0u);
        ASSERT_EQ(graph.head(before.arc), graph.tail(p.arc));
        ASSERT_TRUE(roads.may_follow(before.arc, p.arc));
        changes += roads.ends_only(before.arc) != roads.ends_only(p.arc) ? 1 : 0;
    }
    EXPECT_EQ(weight, route.primary);
    EXPECT_EQ(length, route.length_dm);
    EXPECT_LE(changes, 2);
}

struct Tally {
    std::map<RouteMethod, int> methods;
    int routes = 0, none = 0;
};

void compare(const Region& region, std::uint64_t seed, int queries, bool capped, Tally& tally) {
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, tractor, {});
    const Hierarchy hierarchy(region.view());
    RouteFinder plain(roads);
    FastRoute fast(roads, hierarchy);
    TestRandom random(seed);
    for (const bool hard : {true, false}) {
        const auto primary = primary_weights(graph, hard);
        const HierarchyMetric metric(hierarchy, through_weights(roads, primary));
        for (int q = 0; q < queries; ++q) {
            const RoadPoint from = random_point(roads, random), to = random_point(roads, random);
            auto expected = plain.find(from, to, primary);
            std::uint64_t cap = no_cap;
            if (capped && expected) {
                cap = expected->length_dm - expected->length_dm * random.below(5) / 100;
                expected = plain.find(from, to, primary, cap);
            }
            const auto route = fast.find(from, to, primary, metric, cap);
            ASSERT_EQ(route.has_value(), expected.has_value()) << "query " << q;
            ++tally.methods[fast.last_method()];
            if (!route) {
                ++tally.none;
                continue;
            }
            ++tally.routes;
            ASSERT_EQ(route->primary, expected->primary) << "query " << q;
            ASSERT_EQ(route->length_dm, expected->length_dm) << "query " << q;
            expect_drivable(roads, *route, primary);
        }
    }
}

TEST(FastRoute, EqualsRouteFinderOnRandomNetworks) {
    Tally tally;
    for (std::uint64_t seed = 1; seed <= 120; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const auto rows = static_cast<std::uint32_t>(3 + seed % 8);
        compare(Region::from_data(ordered(random_region_data(seed, rows, 7))), seed * 13, 25, false, tally);
    }
    EXPECT_GT(tally.routes, 4000);
    EXPECT_GT(tally.none, 50);
    EXPECT_GT(tally.methods[RouteMethod::direct], 20);
    EXPECT_GT(tally.methods[RouteMethod::hierarchy], 500);
    EXPECT_GT(tally.methods[RouteMethod::guided], 500);
}

TEST(FastRoute, EqualsRouteFinderUnderACap) {
    Tally tally;
    for (std::uint64_t seed = 500; seed < 520; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        compare(Region::from_data(ordered(random_region_data(seed, 6, 7))), seed, 20, true, tally);
    }
    EXPECT_GT(tally.methods[RouteMethod::plain], 200);
    EXPECT_GT(tally.routes, 200);
    EXPECT_GT(tally.none, 50);
}

TEST(FastRoute, EqualsRouteFinderOnWholeMaps) {
    for (const std::string& extract : test::whole_maps()) {
        SCOPED_TRACE(extract);
        ASSERT_TRUE(std::filesystem::exists(extract)) << "run scripts/fetch_maps";
        Tally tally;
        compare(test::region_of(extract), 99, 250, false, tally);
        EXPECT_GT(tally.routes, 300);
        EXPECT_GT(tally.methods[RouteMethod::hierarchy], tally.methods[RouteMethod::guided]);
    }
}

/// One direction of the first road is private, the other is not.
TEST(FastRoute, RoadPrivateInOneDirectionOnly) {
    Tally tally;
    int one_sided = 0;
    for (std::uint64_t seed = 700; seed < 760; ++seed) {
        TestRandom random(seed);
        TinyMap m;
        std::vector<NodeId> nodes;
        for (std::uint32_t i = 0; i < 16; ++i)
            nodes.push_back(m.node(53.5 + 0.01 * (i / 4), 13.2 + 0.01 * (i % 4)));
        for (std::uint32_t i = 0; i < 16; ++i)
            for (const std::uint32_t next : {i % 4 < 3 ? i + 1 : i, i + 4 < 16 ? i + 4 : i}) {
                if (next == i || random.chance(10))
                    continue;
                TinyEdge e;
                e.tags = {{"highway", "service"}};
                if (random.chance(40))
                    e.tags.emplace_back(random.chance(50) ? "access:forward" : "access:backward", "private");
                else if (random.chance(40))
                    e.tags.emplace_back("access", "private");
                e.length_dm = 1 + random.below(5000);
                m.road(nodes[i], nodes[next], e);
            }
        SCOPED_TRACE("seed " + std::to_string(seed));
        const Region region = Region::from_data(ordered(m.build()));
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, tractor, {});
        for (std::uint32_t e = 0; e < region.view().edge_count(); ++e)
            one_sided += roads.ends_only(graph.arc_of(EdgeId{e}, false)) !=
                                 roads.ends_only(graph.arc_of(EdgeId{e}, true))
                             ? 1
                             : 0;
        compare(region, seed, 40, false, tally);
    }
    EXPECT_GT(one_sided, 100);
    EXPECT_GT(tally.routes, 2000);
}

}  // namespace
}  // namespace loamway
