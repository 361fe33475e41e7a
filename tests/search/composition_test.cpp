// SPDX-License-Identifier: Apache-2.0
// Moves put together from three legs. The hierarchy against the three-layer search, and both against every
// pair of places tried with distances of Boost.Graph's.
#include "loamway/search/composition.h"

#include <gtest/gtest.h>

#include <tuple>

#include "hierarchy_networks.h"
#include "line_graph.h"
#include "loamway/search/fast_route.h"

namespace loamway {
namespace {

using namespace test;

struct Question {
    std::vector<WeightedNode> from, to, haul_from, haul_to;
    std::vector<TransferPlace> places;
    RouteWeight direct = infinite_weight;
    bool must_haul = false;
    [[nodiscard]] CompositionQuestion view() const {
        return {from, to, direct, haul_from, haul_to, places, must_haul};
    }
};

RouteWeight random_price(TestRandom& random, RouteWeight most) {
    return random.next() % (most + 1);
}

// `scale` is what a way across the map weighs, about.
Question random_question(const RoadGraph& graph, TestRandom& random, std::uint32_t most_places,
                         RouteWeight scale) {
    Question q;
    const auto ends = [&](std::vector<WeightedNode>& nodes, std::uint32_t most, RouteWeight price) {
        for (std::uint32_t n = 1 + random.below(most); n > 0; --n)
            nodes.push_back({random_node(graph, random), random_price(random, price)});
    };
    ends(q.from, 3, 0);
    ends(q.to, 3, scale / 20);
    if (random.chance(50))
        ends(q.haul_from, 2, scale / 2);
    if (random.chance(50))
        ends(q.haul_to, 2, scale / 2);
    for (std::uint32_t n = random.below(most_places + 1); n > 0; --n) {
        TransferPlace p;
        p.node = random_node(graph, random);
        // Few different prices, so that ties happen.
        p.load = random.chance(10) ? infinite_weight : random.below(3) * (scale / 20);
        p.unload = random.chance(10) ? infinite_weight : random.below(3) * (scale / 20);
        q.places.push_back(p);
        if (random.chance(10))
            q.places.push_back(p);
    }
    q.must_haul = random.chance(30);
    if (random.chance(5))
        q.direct = random_price(random, scale);
    return q;
}

// By definition: all pairs.
std::optional<Composition> every_pair(const RoadGraph& graph, const Question& q,
                                      const std::vector<RouteWeight>& driving,
                                      const std::vector<RouteWeight>& hauling) {
    const std::vector<RouteWeight> before = boost_distances(graph, driving, q.from);
    // Backwards along every arc: distances to the end.
    const std::vector<RouteWeight> after = boost_distances(graph, turned_round(graph, driving), q.to);
    Composition best;
    best.total = q.must_haul ? infinite_weight : q.direct;
    if (!q.must_haul)
        for (const WeightedNode& t : q.to)
            best.total = std::min(best.total, add_weights(before[t.node.index()], t.weight));
    best.drive_before = best.total;
    const auto haul_from = [&](std::optional<std::uint32_t> load) {
        const RouteWeight driven = load ? before[q.places[*load].node.index()] : 0;
        const RouteWeight loaded = load ? add_weights(driven, q.places[*load].load) : 0;
        if (loaded == infinite_weight)
            return;
        const std::vector<RouteWeight> hauled = boost_distances(
            graph, hauling, load ? std::vector<WeightedNode>{{q.places[*load].node, 0}} : q.haul_from);
        const auto offer = [&](std::optional<std::uint32_t> unload, RouteWeight haul, RouteWeight hand_over,
                               RouteWeight rest) {
            const RouteWeight total = add_weights(add_weights(loaded, haul), add_weights(hand_over, rest));
            if (total < best.total)
                best = {true, load, unload, driven, haul, rest, total};
        };
        for (const WeightedNode& t : q.haul_to)
            offer(std::nullopt, add_weights(hauled[t.node.index()], t.weight), 0, 0);
        for (std::uint32_t u = 0; u < q.places.size(); ++u)
            offer(u, hauled[q.places[u].node.index()], q.places[u].unload, after[q.places[u].node.index()]);
    };
    if (!q.haul_from.empty())
        haul_from(std::nullopt);
    for (std::uint32_t l = 0; l < q.places.size(); ++l)
        haul_from(l);
    return best.total == infinite_weight ? std::nullopt : std::optional(best);
}

struct Tally {
    int all = 0, none = 0, driven = 0, at_places = 0, at_an_end = 0;
    void add(const std::optional<Composition>& c) {
        ++all;
        none += c ? 0 : 1;
        driven += c && !c->hauled ? 1 : 0;
        at_places += c && c->load && c->unload ? 1 : 0;
        at_an_end += c && c->hauled && (!c->load || !c->unload) ? 1 : 0;
    }
};

// Few different weights, so that ties happen; the low-bed may not use some roads and is cheaper on the rest.
std::vector<RouteWeight> coarse_weights(const RoadGraph& graph, TestRandom& random, std::uint32_t closed,
                                        std::uint32_t most) {
    std::vector<RouteWeight> w(graph.arc_count());
    for (RouteWeight& x : w)
        x = random.chance(closed) ? infinite_weight : pack_weight(random.below(most), random.below(3));
    return w;
}

TEST(Composition, EqualsEveryPairOnRandomNetworks) {
    Tally tally;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const Region region = Region::from_data(ordered(random_region_data(seed, 6, 7)));
        const RoadGraph graph(region.view());
        const Hierarchy hierarchy(region.view());
        TestRandom random(seed * 101);
        const auto driving = coarse_weights(graph, random, 20, 60),
                   hauling = coarse_weights(graph, random, 25, 5);
        const HierarchyMetric drive(hierarchy, driving), haul(hierarchy, hauling);
        CompositionFinder finder(hierarchy);
        for (int i = 0; i < 12; ++i) {
            const Question q = random_question(graph, random, 8, pack_weight(60, 0));
            const auto expected = every_pair(graph, q, driving, hauling);
            EXPECT_EQ(finder.find(q.view(), drive, haul), expected) << "seed " << seed << " question " << i;
            EXPECT_EQ(find_composition_plainly(graph, q.view(), driving, hauling), expected)
                << "seed " << seed << " question " << i;
            tally.add(expected);
        }
    }
    EXPECT_EQ(tally.all, 480);
    EXPECT_GT(tally.none, 1);
    EXPECT_GT(tally.driven, 80);
    EXPECT_GT(tally.at_places, 40);
    EXPECT_GT(tally.at_an_end, 40);
}

TEST(Composition, EqualsTheLayeredSearchOnWholeMaps) {
    for (const std::string& extract : whole_maps()) {
        SCOPED_TRACE(extract);
        ASSERT_TRUE(std::filesystem::exists(extract)) << "run scripts/fetch_maps";
        const Region region = region_of(extract);
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        const Hierarchy hierarchy(region.view());
        // Driving is dear, most of all on hard surface, which is nothing special to the low-bed.
        std::vector<std::uint32_t> dear = length_weights(graph);
        for (std::uint32_t a = 0; a < dear.size(); ++a)
            dear[a] *= 100u + graph.edge(ArcId{a}).odds.hard;
        const auto driving = through_weights(roads, dear);
        std::vector<std::uint32_t> tenth = length_weights(graph);
        for (std::uint32_t& w : tenth)
            w *= 10;
        const auto hauling = through_weights(roads, tenth);
        const HierarchyMetric drive(hierarchy, driving), haul(hierarchy, hauling);
        CompositionFinder finder(hierarchy);
        TestRandom random(7);
        Tally tally;
        for (int i = 0; i < 40; ++i) {
            const Question q = random_question(graph, random, 40, pack_weight(6'000'000, 0));
            const auto expected = find_composition_plainly(graph, q.view(), driving, hauling);
            EXPECT_EQ(finder.find(q.view(), drive, haul), expected) << "question " << i;
            tally.add(expected);
        }
        EXPECT_GT(tally.driven, 1);
        EXPECT_GT(tally.at_places + tally.at_an_end, 15);
    }
}

// Nodes and weights at the ends are those that a route begins and ends with.
TEST(Composition, EndsComeOverPrivateGround) {
    int compared = 0;
    for (std::uint64_t seed = 900; seed < 930; ++seed) {
        const Region region = Region::from_data(ordered(random_region_data(seed, 5, 6)));
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        const Hierarchy hierarchy(region.view());
        const auto primary = length_weights(graph);
        const HierarchyMetric metric(hierarchy, through_weights(roads, primary));
        CompositionFinder finder(hierarchy);
        FastRoute fast(roads, hierarchy);
        TestRandom random(seed);
        for (int i = 0; i < 20; ++i) {
            const RoadPoint a = random_point(roads, random), b = random_point(roads, random);
            const auto route = fast.find(a, b, primary, metric);
            if (!route || fast.last_method() != RouteMethod::hierarchy)
                continue;
            Question q;
            q.from = nodes_from(roads, a, primary);
            q.to = nodes_to(roads, b, primary);
            const auto c = finder.find(q.view(), metric, metric);
            ASSERT_TRUE(c);
            EXPECT_FALSE(c->hauled);
            EXPECT_EQ(c->total, (route->primary << 32) + route->length_dm);
            ++compared;
        }
    }
    EXPECT_GT(compared, 150);
}

TEST(Composition, AmongEqualsDrivingThenTheLowestPlaces) {
    // Four places on two nodes of one road; every way costs the same.
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.21);
    m.edge(a, b, {{"highway", "unclassified"}});
    const Region region = Region::from_data(ordered(m.build()));
    const RoadGraph graph(region.view());
    const Hierarchy hierarchy(region.view());
    const std::vector<RouteWeight> free(graph.arc_count(), 0);
    const HierarchyMetric metric(hierarchy, free);
    CompositionFinder finder(hierarchy);
    Question q;
    q.from = {{a, 5}};
    q.places = {{b, infinite_weight, 0}, {b, 1, 2}, {a, 1, 2}, {b, 1, 1}, {a, 1, 1}};
    q.to = {{b, 5}};
    const auto both = [&](const Composition& expected) {
        EXPECT_EQ(finder.find(q.view(), metric, metric), expected);
        EXPECT_EQ(find_composition_plainly(graph, q.view(), free, free), expected);
    };
    both({false, std::nullopt, std::nullopt, 10, 0, 0, 10});
    q.from.clear();
    q.haul_from = {{a, 4}};
    both({true, std::nullopt, 0, 0, 4, 5, 9});
    q.places[0].unload = infinite_weight;
    both({true, std::nullopt, 3, 0, 4, 5, 10});
    q.from = {{a, 3}};
    q.to.clear();
    q.haul_to = {{b, 4}};
    both({true, std::nullopt, std::nullopt, 0, 8, 0, 8});
    q.haul_from = {{a, 5}};
    both({true, 1, std::nullopt, 3, 4, 0, 8});
}

}  // namespace
}  // namespace loamway
