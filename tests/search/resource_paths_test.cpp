// SPDX-License-Identifier: Apache-2.0
// Route and stops, and fronts, against Boost.Graph's r_c_shortest_paths on five families of maps: 1,250
// questions of the first kind and 1,000 of the second, all from fixed seeds.
#include <gtest/gtest.h>

#include <set>

#include "hierarchy_networks.h"
#include "line_graph.h"
#include "resource_paths.h"
#include "stop_worlds.h"

namespace loamway {
namespace {

using namespace test;

/// Roads within so many decimetres of one, by nodes.
std::vector<EdgeId> roads_near(const RoadGraph& graph, EdgeId middle, std::uint64_t radius_dm) {
    std::map<std::uint32_t, std::uint64_t> reached;
    std::set<std::pair<std::uint64_t, std::uint32_t>> open{{0, graph.region().edges[middle.index()].tail}};
    std::set<EdgeId> edges{middle};
    while (!open.empty()) {
        const auto [dm, node] = *open.begin();
        open.erase(open.begin());
        if (!reached.try_emplace(node, dm).second)
            continue;
        for (std::uint32_t a = graph.arc_begin(NodeId{node}); a < graph.arc_end(NodeId{node}); ++a) {
            const std::uint64_t there = dm + graph.arc(ArcId{a}).length_dm;
            edges.insert(graph.edge_of(ArcId{a}));
            if (there <= radius_dm)
                open.insert({there, graph.head(ArcId{a}).value()});
        }
    }
    return {edges.begin(), edges.end()};
}

/// Places, fords and prices around one road of a map.
struct Neighbourhood {
    std::vector<EdgeId> edges;
    StopOffers offers;
    std::vector<std::uint32_t> prices;

    Neighbourhood(const VehicleRoads& roads, TestRandom& random, std::uint64_t radius_dm) {
        const RoadGraph& graph = roads.graph();
        edges = roads_near(
            graph, EdgeId{random.below(static_cast<std::uint32_t>(graph.region().edge_count()))}, radius_dm);
        offers.ford_edge.assign(graph.region().edge_count(), false);
        offers.ford_node.assign(graph.node_count(), false);
        for (const EdgeId e : edges) {
            const std::uint32_t length = graph.region().edges[e.index()].length_dm;
            for (int n = 0; n < 2; ++n)
                if (random.chance(8))
                    offers.beside.push_back({e, random.below(length + 1), random.chance(40)});
            for (const bool reversed : {false, true}) {
                const ArcId a = graph.arc_of(e, reversed);
                if (random.chance(5) && length > 0 && roads.open(a) && roads.open(graph.twin(a)))
                    offers.mouths.push_back({a, 1 + random.below(std::min(length, 400u)), random.chance(40)});
            }
            offers.ford_edge[e.index()] = random.chance(2);
            offers.ford_node[graph.region().edges[e.index()].head] = random.chance(2);
        }
        std::sort(offers.beside.begin(), offers.beside.end(), [](const BesideOffer& a, const BesideOffer& b) {
            return std::pair(a.edge, a.offset_dm) < std::pair(b.edge, b.offset_dm);
        });
        std::sort(offers.mouths.begin(), offers.mouths.end(), [&](const MouthOffer& a, const MouthOffer& b) {
            return std::pair(graph.tail(a.spur), a.spur) < std::pair(graph.tail(b.spur), b.spur);
        });
        for (std::size_t o = 0; o < offers.size(); ++o)
            prices.push_back(random.below(200'000));
    }
    RoadPoint point(const VehicleRoads& roads, TestRandom& random) const {
        for (;;) {
            RoadPoint p;
            p.edge = edges[random.below(static_cast<std::uint32_t>(edges.size()))];
            p.offset_dm = random.below(roads.graph().region().edges[p.edge.index()].length_dm + 1);
            if (roads.open(roads.graph().arc_of(p.edge, false)) ||
                roads.open(roads.graph().arc_of(p.edge, true)))
                return p;
            if (random.chance(2))
                return p;  // nothing open far and wide: no way, which is an answer too
        }
    }
};

struct Tally {
    int stop_questions = 0, found = 0, with_stops = 0, turned = 0;
    int fronts = 0, points = 0, several = 0;
};

void compare_stops(const VehicleRoads& roads, const StopOffers& offers, const StopSearchQuestion& q,
                   Tally& tally) {
    const StopSearchResult result = find_route_with_stops(roads, offers, q);
    ASSERT_TRUE(result.exact);
    const std::vector<FrontSums> expected = ResourcePaths(roads, offers, q).best();
    ++tally.stop_questions;
    ASSERT_EQ(result.found.has_value(), !expected.empty());
    if (!result.found)
        return;
    EXPECT_EQ(result.found->total_primary, expected.front().primary);
    EXPECT_EQ(result.found->route.length_dm, expected.front().length_dm);
    ++tally.found;
    tally.with_stops += result.found->stops.empty() ? 0 : 1;
    for (const PlacedStop& s : result.found->stops)
        tally.turned += s.turns ? 1 : 0;
}

void compare_front(const VehicleRoads& roads, const StopSearchQuestion& stops, Tally& tally) {
    StopSearchQuestion q = stops;
    q.interval_dm = no_cap / 4;
    FrontQuestion f;
    f.from = q.from;
    f.to = q.to;
    f.primary = q.primary;
    f.cap_dm = q.cap_dm;
    const Front front = find_front(roads, f);
    ASSERT_TRUE(front.exact());
    EXPECT_EQ(front.points(), ResourcePaths(roads, StopOffers(), q).best());
    ++tally.fronts;
    tally.points += static_cast<int>(front.points().size());
    tally.several += front.points().size() > 1 ? 1 : 0;
}

/// So many questions on a map, each in another neighbourhood.
void ask(const Region& region, std::uint64_t seed, int stop_questions, int fronts, std::uint64_t radius_dm,
         Tally& tally) {
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    const std::vector<std::uint32_t> hard = hard_weights(graph), length = length_weights(graph);
    RouteFinder finder(roads);
    TestRandom random(seed);
    for (int i = 0; i < std::max(stop_questions, fronts); ++i) {
        SCOPED_TRACE("seed " + std::to_string(seed) + " question " + std::to_string(i));
        const Neighbourhood n(roads, random, radius_dm);
        StopSearchQuestion q;
        q.from = n.point(roads, random);
        q.to = n.point(roads, random);
        q.primary = hard;
        q.prices = n.prices;
        const auto shortest = finder.find(q.from, q.to, length);
        const std::uint64_t least = shortest ? shortest->length_dm : radius_dm;
        q.cap_dm = least + least * random.below(100) / 100 + random.below(2000);
        q.interval_dm = 1000 + least / 2 + random.below(static_cast<std::uint32_t>(least / 2 + 1));
        q.since_dm = random.below(static_cast<std::uint32_t>(q.interval_dm));
        if (i < stop_questions)
            compare_stops(roads, n.offers, q, tally);
        if (i < fronts)
            compare_front(roads, q, tally);
    }
}

void expect_counts(const Tally& t, int with_stops, int several) {
    EXPECT_EQ(t.stop_questions, 250);
    EXPECT_EQ(t.fronts, 200);
    EXPECT_GT(t.with_stops, with_stops);
    EXPECT_GT(t.several, several);
    EXPECT_GT(t.turned, 0);
}

TEST(ResourcePaths, DemoCounty250And200Questions) {
    Tally t;
    ask(region_of(source_path("regions/demo/demo.osm.pbf")), 11, 250, 200, 30000, t);
    expect_counts(t, 60, 20);
}

TEST(ResourcePaths, RandomNetworks250And200Questions) {
    Tally t;
    for (std::uint64_t seed = 1; seed <= 25; ++seed)
        ask(random_region(seed, 5, 6), seed, 10, 8, 100000, t);
    expect_counts(t, 60, 20);
}

TEST(ResourcePaths, Town250And200Questions) {
    Tally t;
    ask(region_of(whole_maps()[1]), 13, 250, 200, 7000, t);
    expect_counts(t, 60, 15);
}

TEST(ResourcePaths, Mountains250And200Questions) {
    Tally t;
    ask(region_of(whole_maps()[2]), 17, 250, 200, 12000, t);
    expect_counts(t, 60, 20);
}

// Roads of no length, parallel roads, mazes of one-way roads, and lengths in whole units of which the
// interval is a multiple, so that places lie at its very end.
TEST(ResourcePaths, Adversaries250And200Questions) {
    Tally t;
    int at_the_limit = 0;
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const World w = adversarial_world(seed);
        const RoadGraph graph(w.region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        TestRandom random(seed * 7919);
        for (int i = 0; i < 5; ++i) {
            StopSearchQuestion q = random_question(w, roads, random);
            q.since_dm = unit * (4 + random.below(5));
            q.cap_dm = unit * (6 + random.below(24));
            compare_stops(roads, w.offers, q, t);
            if (i < 4)
                compare_front(roads, q, t);
            // One decimetre less and some place is out of reach: then it was at the very end of the interval.
            const auto before = find_route_with_stops(roads, w.offers, q);
            q.interval_dm -= 1;
            const auto after = find_route_with_stops(roads, w.offers, q);
            at_the_limit +=
                before.found && (!after.found || after.found->total_primary != before.found->total_primary)
                    ? 1
                    : 0;
        }
    }
    expect_counts(t, 40, 15);
    EXPECT_GT(at_the_limit, 10);
}

}  // namespace
}  // namespace loamway
