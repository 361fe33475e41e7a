// SPDX-License-Identifier: Apache-2.0
// Priced turns, against searches that know nothing of bounds, hierarchies or dominance.
#include "loamway/search/turn_prices.h"

#include <gtest/gtest.h>

#include "hierarchy_networks.h"
#include "line_graph.h"
#include "loamway/search/fast_route.h"
#include "stop_worlds.h"

namespace loamway {
namespace {

using namespace test;

// A price that no two pairs of arcs share by design, in the range of what roads weigh here.
TurnPrices prices_for(std::uint64_t seed, const std::vector<std::uint32_t>& primary) {
    const std::uint32_t dearest = *std::max_element(primary.begin(), primary.end()) / 4 + 2;
    return random_turn_prices(seed, static_cast<std::uint32_t>(seed % 3 * 40), dearest);
}

struct Tally {
    int routes = 0, none = 0, dearer = 0, other_way = 0;
    std::map<RouteMethod, int> methods;
};

void compare(std::uint64_t seed, Tally& tally) {
    const Region region =
        Region::from_data(ordered(random_region_data(seed, static_cast<std::uint32_t>(4 + seed % 5), 6)));
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    const Hierarchy hierarchy(region.view());
    RouteFinder finder(roads);
    FastRoute fast(roads, hierarchy);
    TestRandom random(seed * 977);
    for (const auto& primary : {hard_weights(graph), length_weights(graph)}) {
        const HierarchyMetric metric(hierarchy, through_weights(roads, primary));
        const TurnPrices turns = prices_for(seed, primary);
        for (int q = 0; q < 12; ++q) {
            const RoadPoint a = random_point(roads, random), b = random_point(roads, random);
            const std::uint64_t expected = LineGraph(roads, a, b, primary, turns).best();
            const auto route = finder.find(a, b, primary, no_cap, turns);
            const auto faster = fast.find(a, b, primary, metric, no_cap, turns);
            ++tally.methods[fast.last_method()];
            ASSERT_EQ(route.has_value(), expected != unreached) << "query " << q;
            ASSERT_EQ(faster.has_value(), expected != unreached) << "query " << q;
            if (!route) {
                ++tally.none;
                continue;
            }
            EXPECT_EQ((route->primary << 32) + route->length_dm, expected) << "query " << q;
            EXPECT_EQ((faster->primary << 32) + faster->length_dm, expected) << "query " << q;
            check_route(roads, *route, primary, turns);
            check_route(roads, *faster, primary, turns);
            const auto without = finder.find(a, b, primary);
            tally.dearer += route->primary > without->primary ? 1 : 0;
            tally.other_way += route->pieces != without->pieces ? 1 : 0;
            ++tally.routes;
        }
    }
}

TEST(TurnPrices, RoutesEqualBoostDijkstraOnTheLineGraph) {
    Tally tally;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        compare(seed, tally);
    }
    EXPECT_GT(tally.routes, 1000);
    EXPECT_GT(tally.none, 20);
    EXPECT_GT(tally.dearer, 700);
    EXPECT_GT(tally.other_way, 250);
    EXPECT_GT(tally.methods[RouteMethod::hierarchy], 60);
    EXPECT_GT(tally.methods[RouteMethod::guided], 600);
}

TEST(TurnPrices, ZeroPricesChangeNothing) {
    const TurnPrices zero([](ArcId, ArcId) { return 0u; });
    for (std::uint64_t seed = 200; seed < 220; ++seed) {
        const Region region = Region::from_data(ordered(random_region_data(seed, 6, 6)));
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        const Hierarchy hierarchy(region.view());
        RouteFinder finder(roads);
        FastRoute fast(roads, hierarchy);
        TestRandom random(seed);
        const auto primary = hard_weights(graph);
        const HierarchyMetric metric(hierarchy, through_weights(roads, primary));
        for (int q = 0; q < 20; ++q) {
            const RoadPoint a = random_point(roads, random), b = random_point(roads, random);
            const auto plain = finder.find(a, b, primary), with = finder.find(a, b, primary, no_cap, zero);
            const auto quick = fast.find(a, b, primary, metric);
            const auto quick_with = fast.find(a, b, primary, metric, no_cap, zero);
            ASSERT_EQ(plain.has_value(), with.has_value());
            if (!plain)
                continue;
            EXPECT_EQ(plain->primary, with->primary);
            EXPECT_EQ(plain->length_dm, with->length_dm);
            EXPECT_EQ(quick->pieces, quick_with->pieces);
        }
    }
}

TEST(TurnPrices, CappedRoutesEqualPlainLabelSetting) {
    int binding = 0, compared = 0;
    for (std::uint64_t seed = 100; seed < 130; ++seed) {
        const Region region = random_region(seed, 6, 6);
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        RouteFinder finder(roads);
        TestRandom random(seed * 31);
        const auto hard = hard_weights(graph), length = length_weights(graph);
        const TurnPrices turns = prices_for(seed, hard);
        for (int q = 0; q < 15; ++q) {
            const RoadPoint a = random_point(roads, random), b = random_point(roads, random);
            const auto shortest = finder.find(a, b, length);
            if (!shortest)
                continue;
            const std::uint64_t cap = shortest->length_dm + shortest->length_dm * random.below(30) / 100;
            const auto route = finder.find(a, b, hard, cap, turns);
            ASSERT_TRUE(route);
            check_route(roads, *route, hard, turns);
            EXPECT_EQ((route->primary << 32) + route->length_dm, best_within(roads, a, b, hard, cap, turns))
                << "seed " << seed << " query " << q;
            binding += finder.find(a, b, hard, no_cap, turns)->length_dm > cap ? 1 : 0;
            ++compared;
        }
    }
    EXPECT_GT(compared, 350);
    EXPECT_GT(binding, 50);
}

TEST(TurnPrices, RouteAndStopsEqualAStateForEveryCombination) {
    int found = 0, none = 0, with_stops = 0, dearer = 0;
    for (std::uint64_t seed = 301; seed <= 420; ++seed) {
        const World w = random_world(seed);
        const RoadGraph graph(w.region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        TestRandom random(seed * 7919);
        for (int i = 0; i < 6; ++i) {
            StopSearchQuestion q = random_question(w, roads, random);
            q.since_dm = unit * random.below(7);
            q.cap_dm = random.chance(50) ? unit * (4 + random.below(20)) : no_cap;
            const StopSearchResult without = find_route_with_stops(roads, w.offers, q);
            q.turns = random_turn_prices(seed, static_cast<std::uint32_t>(seed % 3 * 40), 60);
            const StopSearchResult result = find_route_with_stops(roads, w.offers, q);
            ASSERT_TRUE(result.exact);
            const std::uint64_t expected = StopOracle(roads, w, q).best();
            ASSERT_EQ(result.found.has_value(), expected != unreached) << "seed " << seed << " query " << i;
            if (!result.found) {
                ++none;
                continue;
            }
            EXPECT_EQ(result.found->total_primary, expected >> 32) << "seed " << seed << " query " << i;
            EXPECT_EQ(result.found->route.length_dm, expected & 0xffffffffu)
                << "seed " << seed << " query " << i;
            check_stops(graph, w, q, *result.found);
            ++found;
            with_stops += result.found->stops.empty() ? 0 : 1;
            dearer += result.found->total_primary > without.found->total_primary ? 1 : 0;
        }
    }
    EXPECT_GT(found, 250);
    EXPECT_GT(none, 40);
    EXPECT_GT(with_stops, 100);
    EXPECT_GT(dearer, 150);
}

}  // namespace
}  // namespace loamway
