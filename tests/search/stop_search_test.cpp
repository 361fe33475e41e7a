// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/stop_search.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "line_graph.h"
#include "loamway/search/fast_route.h"
#include "loamway/search/stop_choice.h"
#include "stop_worlds.h"

namespace loamway {
namespace {

using namespace test;

TEST(StopSearch, EqualsAStateForEveryCombination) {
    int found = 0, none = 0, with_stops = 0, capped = 0;
    for (std::uint64_t seed = 1; seed <= 120; ++seed) {
        const World w = random_world(seed);
        const RoadGraph graph(w.region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        TestRandom random(seed * 7919);
        for (int i = 0; i < 8; ++i) {
            StopSearchQuestion q = random_question(w, roads, random);
            q.since_dm = unit * random.below(7);
            if (random.chance(50)) {
                q.cap_dm = unit * (4 + random.below(20));
                ++capped;
            } else {
                q.cap_dm = no_cap;
            }
            const StopSearchResult result = find_route_with_stops(roads, w.offers, q);
            ASSERT_TRUE(result.exact);
            const std::uint64_t expected = StopOracle(roads, w, q).best();
            if (expected == unreached) {
                EXPECT_FALSE(result.found) << "seed " << seed << " query " << i;
                ++none;
                continue;
            }
            ASSERT_TRUE(result.found) << "seed " << seed << " query " << i;
            EXPECT_EQ(result.found->total_primary, expected >> 32) << "seed " << seed << " query " << i;
            // Knowing an answer, even the best one, changes nothing but the work.
            q.known_primary = (expected >> 32) + (i % 2 == 0 ? 0 : 20);
            const StopSearchResult again = find_route_with_stops(roads, w.offers, q);
            ASSERT_TRUE(again.found);
            EXPECT_EQ(again.found->total_primary, expected >> 32);
            EXPECT_EQ(again.found->route.length_dm, expected & 0xffffffffu);
            EXPECT_LE(again.labels, result.labels);
            EXPECT_EQ(result.found->route.length_dm, expected & 0xffffffffu)
                << "seed " << seed << " query " << i;
            check_stops(graph, w, q, *result.found);
            ++found;
            with_stops += result.found->stops.empty() ? 0 : 1;
        }
    }
    EXPECT_GT(found, 400);
    EXPECT_GT(with_stops, 150);
    EXPECT_GT(none, 40);
    EXPECT_GT(capped, 300);
}

TEST(StopSearch, TurningRoundAtStopsEqualsAStateForEveryCombination) {
    int found = 0, turned = 0, only_so = 0, shorter = 0, at_mouths = 0;
    for (std::uint64_t seed = 601; seed <= 1000; ++seed) {
        World w = random_world(seed, 60);
        const RoadGraph graph(w.region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        World nowhere = random_world(seed, 60);
        for (BesideOffer& b : nowhere.offers.beside)
            b.turns = false;
        for (MouthOffer& m : nowhere.offers.mouths)
            m.turns = false;
        TestRandom random(seed * 7919);
        for (int i = 0; i < 5; ++i) {
            StopSearchQuestion q = random_question(w, roads, random);
            q.since_dm = unit * random.below(9);
            q.cap_dm = random.chance(50) ? unit * (4 + random.below(20)) : no_cap;
            if (random.chance(50))
                q.turns = random_turn_prices(seed, 50, 60);
            const StopSearchResult result = find_route_with_stops(roads, w.offers, q);
            ASSERT_TRUE(result.exact);
            const std::uint64_t expected = StopOracle(roads, w, q).best();
            ASSERT_EQ(result.found.has_value(), expected != unreached) << "seed " << seed << " query " << i;
            if (!result.found)
                continue;
            EXPECT_EQ(result.found->total_primary, expected >> 32) << "seed " << seed << " query " << i;
            EXPECT_EQ(result.found->route.length_dm, expected & 0xffffffffu)
                << "seed " << seed << " query " << i;
            check_stops(graph, w, q, *result.found);
            ++found;
            const auto& stops = result.found->stops;
            for (const PlacedStop& s : stops) {
                turned += s.turns ? 1 : 0;
                at_mouths += s.turns && s.offer >= w.offers.beside.size() ? 1 : 0;
            }
            const StopSearchResult without = find_route_with_stops(roads, nowhere.offers, q);
            only_so += without.found ? 0 : 1;
            shorter += without.found && without.found->total_primary > result.found->total_primary ? 1 : 0;
        }
    }
    EXPECT_GT(found, 300);
    EXPECT_GT(turned, 40);
    EXPECT_GT(at_mouths, 25);
    EXPECT_GT(only_so, 12);
    EXPECT_GT(shorter, 18);
}

TEST(StopSearch, AHierarchyChangesTheWorkAndNotTheAnswer) {
    int found = 0, none = 0, with_stops = 0, turned = 0;
    for (std::uint64_t seed = 2001; seed <= 2150; ++seed) {
        const World w = random_world(seed, seed % 2 == 0 ? 40 : 0, seed % 3 == 0);
        const RoadGraph graph(w.region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        const Hierarchy hierarchy(w.region.view());
        const HierarchyMetric metric(hierarchy, through_weights(roads, w.weights));
        const HierarchyMetric lengths(hierarchy, through_weights(roads, length_weights(graph)));
        TestRandom random(seed * 7919);
        for (int i = 0; i < 8; ++i) {
            StopSearchQuestion q = random_question(w, roads, random);
            q.since_dm = unit * random.below(9);
            q.cap_dm = random.chance(50) ? unit * (4 + random.below(20)) : no_cap;
            if (random.chance(50))
                q.turns = random_turn_prices(seed, 50, 60);
            const StopSearchResult swept = find_route_with_stops(roads, w.offers, q);
            q.metric = &metric;
            q.length_metric = &lengths;
            const StopSearchResult looked_up = find_route_with_stops(roads, w.offers, q);
            ASSERT_EQ(looked_up.found.has_value(), swept.found.has_value())
                << "seed " << seed << " query " << i;
            if (!swept.found) {
                ++none;
                continue;
            }
            EXPECT_EQ(looked_up.found->total_primary, swept.found->total_primary)
                << "seed " << seed << " query " << i;
            EXPECT_EQ(looked_up.found->route.length_dm, swept.found->route.length_dm)
                << "seed " << seed << " query " << i;
            check_stops(graph, w, q, *looked_up.found);
            ++found;
            with_stops += looked_up.found->stops.empty() ? 0 : 1;
            for (const PlacedStop& s : looked_up.found->stops)
                turned += s.turns ? 1 : 0;
        }
    }
    EXPECT_GT(found, 400);
    EXPECT_GT(none, 100);
    EXPECT_GT(with_stops, 200);
    EXPECT_GT(turned, 5);
}

// Two gravel roads from A to B: 20.0 km without a place to stop, 20.5 km with one half-way.
struct TwoRoads {
    TinyMap map;
    EdgeId in, out, straight, first_half, second_half, track;
};

TwoRoads two_roads() {
    TwoRoads t;
    const NodeId s = t.map.node(53.0, 13.0), a = t.map.node(53.0, 13.001), b = t.map.node(53.0, 13.3),
                 e = t.map.node(53.0, 13.301), mid = t.map.node(53.02, 13.15),
                 end = t.map.node(53.021, 13.15);
    const auto road = [&](NodeId x, NodeId y, std::uint32_t dm, const char* highway) {
        TinyEdge edge;
        edge.tags = {{"highway", highway}};
        edge.length_dm = dm;
        return t.map.road(x, y, edge);
    };
    t.in = road(s, a, 10, "unclassified");
    t.straight = road(a, b, 200000, "unclassified");
    t.first_half = road(a, mid, 102500, "unclassified");
    t.second_half = road(mid, b, 102500, "unclassified");
    t.out = road(b, e, 10, "unclassified");
    t.track = road(mid, end, 1000, "track");
    return t;
}

StopSearchQuestion two_roads_question(const TwoRoads& t, const std::vector<std::uint32_t>& lengths,
                                      const std::vector<std::uint32_t>& prices) {
    StopSearchQuestion q;
    q.from.edge = t.in;
    q.to.edge = t.out;
    q.to.offset_dm = 10;
    q.primary = lengths;
    q.prices = prices;
    q.interval_dm = 150000;
    return q;
}

TEST(StopSearch, ALongerRoadWithALayBy) {
    TwoRoads t = two_roads();
    const Region region = Region::from_data(t.map.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    std::vector<std::uint32_t> lengths, prices{0};
    for (std::uint32_t a = 0; a < graph.arc_count(); ++a)
        lengths.push_back(graph.arc(ArcId{a}).length_dm);
    StopOffers offers;
    offers.beside.push_back({t.first_half, 102000});
    const auto result = find_route_with_stops(roads, offers, two_roads_question(t, lengths, prices));
    ASSERT_TRUE(result.found);
    EXPECT_EQ(result.found->route.length_dm, 205020u);
    ASSERT_EQ(result.found->stops.size(), 1u);
    EXPECT_EQ(result.found->stops[0].route_dm, 102010u);
    // Route first, then stops: the shortest road has none.
    const auto shortest = RouteFinder(roads).find(two_roads_question(t, lengths, prices).from,
                                                  two_roads_question(t, lengths, prices).to, lengths);
    StopQuestion alone;
    alone.length_dm = shortest->length_dm;
    alone.interval_dm = 150000;
    EXPECT_TRUE(choose_stops(alone).missing);
}

TEST(StopSearch, ALongerRoadWithAPlaceUpASideTrack) {
    TwoRoads t = two_roads();
    const Region region = Region::from_data(t.map.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    std::vector<std::uint32_t> lengths, prices{800};
    for (std::uint32_t a = 0; a < graph.arc_count(); ++a)
        lengths.push_back(graph.arc(ArcId{a}).length_dm);
    StopOffers offers;
    offers.mouths.push_back({graph.arc_of(t.track, false), 400});  // 40 m up the track
    const auto result = find_route_with_stops(roads, offers, two_roads_question(t, lengths, prices));
    ASSERT_TRUE(result.found);
    EXPECT_EQ(result.found->route.length_dm, 205020u);
    EXPECT_EQ(result.found->total_primary, 205020u + 800u);
    ASSERT_EQ(result.found->stops.size(), 1u);
    EXPECT_EQ(result.found->stops[0].route_dm, 102510u);
}

TEST(StopSearch, AnEmptyBudgetIsNotExact) {
    TwoRoads t = two_roads();
    const Region region = Region::from_data(t.map.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    std::vector<std::uint32_t> lengths, prices{0};
    for (std::uint32_t a = 0; a < graph.arc_count(); ++a)
        lengths.push_back(graph.arc(ArcId{a}).length_dm);
    StopOffers offers;
    offers.beside.push_back({t.first_half, 102000});
    StopSearchQuestion q = two_roads_question(t, lengths, prices);
    q.label_budget = 2;
    const auto result = find_route_with_stops(roads, offers, q);
    EXPECT_FALSE(result.exact);
    EXPECT_FALSE(result.found);
    // What is proven stays below the answer that a larger budget finds.
    q.label_budget = 1000;
    EXPECT_LE(result.lower_bound, find_route_with_stops(roads, offers, q).found->total_primary);
}

}  // namespace
}  // namespace loamway
