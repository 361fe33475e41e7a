// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/hierarchy.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "hierarchy_networks.h"
#include "loamway/base/error.h"
#include "loamway/search/distance_to.h"
#include "loamway/search/metric_cache.h"

namespace loamway {
namespace {

Region random_ordered_region(std::uint64_t seed, std::uint64_t rows, std::uint32_t columns) {
    return Region::from_data(ordered(random_region_data(seed, static_cast<std::uint32_t>(rows), columns)));
}

/// The path leads from source to target arc by arc, and its weights add up to the distance.
void expect_path(const RoadGraph& graph, const HierarchyQuery& query, const std::vector<RouteWeight>& weights,
                 NodeId from, NodeId to, RouteWeight distance) {
    NodeId at = from;
    RouteWeight sum = 0;
    for (const ArcId a : query.path()) {
        ASSERT_EQ(graph.tail(a), at);
        ASSERT_NE(weights[a.index()], infinite_weight);
        sum += weights[a.index()];
        at = graph.head(a);
    }
    EXPECT_EQ(at, to);
    EXPECT_EQ(sum, distance);
    EXPECT_EQ(query.first_node(), from);
    EXPECT_EQ(query.last_node(), to);
}

TEST(Hierarchy, QueriesEqualBoostDijkstraOnRandomNetworks) {
    int compared = 0, unreachable = 0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        const Region region = random_ordered_region(seed, 4 + seed % 9, 7);
        const RoadGraph graph(region.view());
        const Hierarchy hierarchy(region.view());
        HierarchyQuery query(hierarchy);
        TestRandom random(seed * 331);
        for (const std::uint32_t closed : {0u, 15u, 45u}) {
            const auto weights = test::random_weights(graph, random, closed);
            const HierarchyMetric metric(hierarchy, weights);
            for (int q = 0; q < 12; ++q) {
                const NodeId s = test::random_node(graph, random), t = test::random_node(graph, random);
                const RouteWeight expected = test::boost_distances(graph, weights, {{s, 0}})[t.index()];
                const std::vector<WeightedNode> from{{s, 0}}, to{{t, 0}};
                ASSERT_EQ(query.run(metric, from, to), expected) << "seed " << seed << " query " << q;
                if (expected == infinite_weight) {
                    ++unreachable;
                    continue;
                }
                ++compared;
                expect_path(graph, query, weights, s, t, expected);
            }
        }
    }
    EXPECT_GT(compared, 1000);
    EXPECT_GT(unreachable, 100);
}

TEST(Hierarchy, SeveralWeightedSourcesAndTargets) {
    int compared = 0;
    for (std::uint64_t seed = 200; seed < 240; ++seed) {
        const Region region = random_ordered_region(seed, 8, 9);
        const RoadGraph graph(region.view());
        const Hierarchy hierarchy(region.view());
        HierarchyQuery query(hierarchy);
        TestRandom random(seed);
        const auto weights = test::random_weights(graph, random, 20);
        const HierarchyMetric metric(hierarchy, weights);
        for (int q = 0; q < 25; ++q) {
            const auto sources = test::random_starts(graph, random, 12),
                       targets = test::random_starts(graph, random, 12);
            const auto from_sources = test::boost_distances(graph, weights, sources);
            RouteWeight expected = infinite_weight;
            for (const WeightedNode& t : targets)
                if (from_sources[t.node.index()] != infinite_weight)
                    expected = std::min(expected, from_sources[t.node.index()] + t.weight);
            ASSERT_EQ(query.run(metric, sources, targets), expected);
            if (expected == infinite_weight)
                continue;
            ++compared;
            // The ends must be among those given, and the path must account for the rest.
            const auto end_weight = [](const std::vector<WeightedNode>& ends, NodeId n) {
                RouteWeight least = infinite_weight;
                for (const WeightedNode& e : ends)
                    if (e.node == n)
                        least = std::min(least, e.weight);
                return least;
            };
            const RouteWeight first = end_weight(sources, query.first_node()),
                              last = end_weight(targets, query.last_node());
            ASSERT_NE(first, infinite_weight);
            ASSERT_NE(last, infinite_weight);
            expect_path(graph, query, weights, query.first_node(), query.last_node(),
                        expected - first - last);
        }
    }
    EXPECT_GT(compared, 500);
}

TEST(Hierarchy, NoSourcesOrTargetsIsNoWay) {
    const Region region = random_ordered_region(3, 5, 5);
    const Hierarchy hierarchy(region.view());
    HierarchyQuery query(hierarchy);
    const HierarchyMetric metric(hierarchy, std::vector<RouteWeight>(region.view().arcs.size(), 1));
    const std::vector<WeightedNode> one{{NodeId{3u}, 7}}, infinite{{NodeId{3u}, infinite_weight}};
    EXPECT_EQ(query.run(metric, {}, one), infinite_weight);
    EXPECT_EQ(query.run(metric, one, {}), infinite_weight);
    EXPECT_EQ(query.run(metric, infinite, one), infinite_weight);
    EXPECT_EQ(query.run(metric, one, one), 14u);
    EXPECT_TRUE(query.path().empty());
}

TEST(Hierarchy, SweepsEqualBoostDijkstra) {
    for (std::uint64_t seed = 300; seed < 330; ++seed) {
        const Region region = random_ordered_region(seed, 3 + seed % 11, 8);
        const RoadGraph graph(region.view());
        const Hierarchy hierarchy(region.view());
        HierarchyQuery query(hierarchy);
        DistanceTo distance_to(hierarchy);
        TestRandom random(seed);
        const auto weights = test::random_weights(graph, random, 25);
        const auto turned = test::turned_round(graph, weights);
        const HierarchyMetric metric(hierarchy, weights);
        for (int q = 0; q < 10; ++q) {
            const auto starts = test::random_starts(graph, random, q < 5 ? 1 : 9);
            std::vector<RouteWeight> from(graph.node_count()), to(graph.node_count());
            query.all_from(metric, starts, from);
            query.all_to(metric, starts, to);
            const auto expected_to = test::boost_distances(graph, turned, starts);
            EXPECT_EQ(from, test::boost_distances(graph, weights, starts));
            EXPECT_EQ(to, expected_to);

            std::vector<NodeId> some;
            for (std::uint32_t i = 0; i < 1 + random.below(10); ++i)
                some.push_back(test::random_node(graph, random));
            std::vector<RouteWeight> some_from(some.size()), some_to(some.size());
            query.some_from(metric, starts, some, some_from);
            query.some_to(metric, starts, some, some_to);
            distance_to.set(metric, starts);
            for (std::size_t i = 0; i < some.size(); ++i) {
                EXPECT_EQ(some_from[i], from[some[i].index()]);
                EXPECT_EQ(some_to[i], to[some[i].index()]);
                EXPECT_EQ(distance_to(some[i]), expected_to[some[i].index()]);
            }
        }
    }
}

/// A grid large enough to be divided among threads.
RegionData big_grid(std::uint32_t side) {
    TestRandom random(side);
    TinyMap m;
    for (std::uint32_t r = 0; r < side; ++r)
        for (std::uint32_t c = 0; c < side; ++c)
            m.node(GeoPoint{500000000 + static_cast<std::int32_t>(r * 15000),
                            100000000 + static_cast<std::int32_t>(c * 15000)});
    for (std::uint32_t r = 0; r < side; ++r)
        for (std::uint32_t c = 0; c < side; ++c)
            for (const std::uint32_t next :
                 {c + 1 < side ? r * side + c + 1 : 0, r + 1 < side ? (r + 1) * side + c : 0})
                if (next != 0 && !random.chance(5)) {
                    TinyEdge e;
                    e.length_dm = 1 + random.below(30000);
                    m.road(NodeId{r * side + c}, NodeId{next}, e);
                }
    return ordered(m.build());
}

TEST(Hierarchy, ThreadsGiveTheSameMetricArcByArc) {
    const Region region = Region::from_data(big_grid(90));
    const RoadGraph graph(region.view());
    const Hierarchy hierarchy(region.view());
    ASSERT_GT(hierarchy.pieces().size(), 8u);
    ASSERT_GT(hierarchy.chains().size(), 2u);
    ASSERT_TRUE(std::any_of(hierarchy.chains().begin(), hierarchy.chains().end(),
                            [](const Hierarchy::Run& r) { return r.end - r.begin > 8; }));
    TestRandom random(77);
    for (int round = 0; round < 3; ++round) {
        const auto weights = test::random_weights(graph, random, 10);
        const HierarchyMetric one(hierarchy, weights, 1);
        for (const unsigned threads : {2u, 3u, 7u}) {
            const HierarchyMetric several(hierarchy, weights, threads);
            EXPECT_TRUE(std::ranges::equal(one.up(), several.up()));
            EXPECT_TRUE(std::ranges::equal(one.down(), several.down()));
        }
        HierarchyQuery query(hierarchy);
        std::vector<RouteWeight> from(graph.node_count());
        const std::vector<WeightedNode> start{{test::random_node(graph, random), 0}};
        query.all_from(one, start, from);
        EXPECT_EQ(from, test::boost_distances(graph, weights, start));
    }
}

TEST(Hierarchy, WorkIsDividedIntoEveryRankOnce) {
    for (const std::uint32_t side : {1u, 2u, 5u, 90u}) {
        const Region region = Region::from_data(big_grid(side));
        const Hierarchy hierarchy(region.view());
        std::vector<int> seen(hierarchy.node_count(), 0);
        for (const auto* runs : {&hierarchy.pieces(), &hierarchy.chains()})
            for (const Hierarchy::Run& run : *runs)
                for (std::uint32_t x = run.begin; x < run.end; ++x)
                    ++seen[x];
        EXPECT_EQ(std::count(seen.begin(), seen.end(), 1), static_cast<std::ptrdiff_t>(seen.size()));
        for (const Hierarchy::Run& run : hierarchy.pieces())
            for (std::uint32_t x = run.begin; x < run.end; ++x)
                for (const Hierarchy::Below& b : hierarchy.below(x))
                    ASSERT_GE(b.tail, run.begin);
    }
}

TEST(Hierarchy, WholeMapsEqualBoostDijkstra) {
    for (const std::string& extract : test::whole_maps()) {
        ASSERT_TRUE(std::filesystem::exists(extract)) << extract << " is missing: run scripts/fetch_maps";
        const Region region = test::region_of(extract);
        const RoadGraph graph(region.view());
        const Hierarchy hierarchy(region.view());
        HierarchyQuery query(hierarchy);
        DistanceTo distance_to(hierarchy);
        TestRandom random(4242);
        const auto weights = test::random_weights(graph, random, 3);
        const HierarchyMetric metric(hierarchy, weights, 2);
        int compared = 0;
        for (int s = 0; s < 25; ++s) {
            const NodeId from = test::random_node(graph, random);
            const std::vector<WeightedNode> sources{{from, 0}};
            const auto expected = test::boost_distances(graph, weights, {{from, 0}});
            std::vector<RouteWeight> all(graph.node_count());
            query.all_from(metric, sources, all);
            ASSERT_EQ(all, expected) << extract;
            for (int t = 0; t < 24; ++t) {
                const NodeId to = test::random_node(graph, random);
                const std::vector<WeightedNode> targets{{to, 0}};
                const RouteWeight distance = expected[to.index()];
                ASSERT_EQ(query.run(metric, sources, targets), distance) << extract;
                distance_to.set(metric, targets);
                ASSERT_EQ(distance_to(from), distance);
                if (distance == infinite_weight)
                    continue;
                expect_path(graph, query, weights, from, to, distance);
                ++compared;
            }
        }
        EXPECT_GT(compared, 400) << extract;
    }
}

TEST(Hierarchy, ParallelRoadsAndLoopsTakeTheBest) {
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.21), c = m.node(53.51, 13.21);
    m.edge(a, b);
    const EdgeId best = m.edge(a, b);
    m.edge(a, b);
    m.edge(b, b);
    m.edge(b, c);
    const Region region = Region::from_data(ordered(m.build()));
    const RoadGraph graph(region.view());
    const Hierarchy hierarchy(region.view());
    std::vector<RouteWeight> weights(graph.arc_count(), pack_weight(5, 5));
    weights[graph.arc_of(best, false).index()] = pack_weight(4, 9);
    const HierarchyMetric metric(hierarchy, weights);
    HierarchyQuery query(hierarchy);
    const std::vector<WeightedNode> from{{a, 0}}, to{{c, 0}};
    EXPECT_EQ(query.run(metric, from, to), pack_weight(9, 14));
    ASSERT_EQ(query.path().size(), 2u);
    EXPECT_EQ(graph.edge_of(query.path()[0]), best);
    EXPECT_EQ(query.run(metric, to, from), pack_weight(10, 10));
}

TEST(Hierarchy, SumsBeyondSixtyFourBitsAreNoWay) {
    TinyMap m;
    std::vector<NodeId> nodes;
    for (int i = 0; i < 4; ++i)
        nodes.push_back(m.node(53.5, 13.2 + i * 0.01));
    for (int i = 0; i < 3; ++i)
        m.edge(nodes[static_cast<std::size_t>(i)], nodes[static_cast<std::size_t>(i) + 1]);
    const Region region = Region::from_data(ordered(m.build()));
    const Hierarchy hierarchy(region.view());
    HierarchyQuery query(hierarchy);
    const HierarchyMetric metric(
        hierarchy, std::vector<RouteWeight>(region.view().arcs.size(), pack_weight(1u << 31, 1)));
    const std::vector<WeightedNode> from{{nodes[0], 0}}, near{{nodes[1], 0}}, far{{nodes[3], 0}};
    EXPECT_EQ(query.run(metric, from, near), pack_weight(1u << 31, 1));
    EXPECT_EQ(query.run(metric, from, far), infinite_weight);
    // Lengths that could spill into the primary weight are refused.
    EXPECT_THROW(HierarchyMetric(hierarchy, std::vector<RouteWeight>(region.view().arcs.size(),
                                                                     pack_weight(0, 1u << 31))),
                 Error);
}

TEST(Hierarchy, RefusesAnOrderOfOtherRoads) {
    const RegionData whole = ordered(random_region_data(5, 6, 6));
    const auto kind_after = [&](auto&& change) {
        RegionData data = whole;
        change(data);
        try {
            const Region region = Region::from_data(std::move(data));
            const Hierarchy hierarchy(region.view());
        } catch (const Error& e) {
            return e.kind();
        }
        return ErrorKind::limit;
    };
    EXPECT_EQ(kind_after([](RegionData&) {}), ErrorKind::limit);  // whole: no error
    EXPECT_EQ(kind_after([](RegionData& d) {
                  d.node_rank.clear();
                  d.tree_parent.clear();
                  d.up_first.clear();
                  d.up_head.clear();
              }),
              ErrorKind::not_found);
    EXPECT_EQ(kind_after([](RegionData& d) { std::swap(d.node_rank.front(), d.node_rank.back()); }),
              ErrorKind::damaged);
    EXPECT_EQ(kind_after([](RegionData& d) {
                  // A row loses its last head.
                  std::uint32_t x = 0;
                  while (d.up_first[x + 1] - d.up_first[x] < 2)
                      ++x;
                  d.up_head.erase(d.up_head.begin() + d.up_first[x + 1] - 1);
                  for (std::uint32_t y = x + 1; y < d.up_first.size(); ++y)
                      --d.up_first[y];
              }),
              ErrorKind::damaged);
}

TEST(MetricCache, KeepsTheLastUsedWithinItsBytes) {
    const Region region = random_ordered_region(9, 6, 6);
    const Hierarchy hierarchy(region.view());
    int made = 0;
    const auto make = [&] {
        ++made;
        return HierarchyMetric(hierarchy, std::vector<RouteWeight>(region.view().arcs.size(), 1));
    };
    const std::size_t size = make().bytes();
    made = 0;
    MetricCache cache(2 * size + size / 2);
    const auto a = cache.get("a", make);
    EXPECT_EQ(cache.get("a", make), a);
    static_cast<void>(cache.get("b", make));
    static_cast<void>(cache.get("a", make));
    EXPECT_EQ(made, 2);
    static_cast<void>(cache.get("c", make));  // b goes
    EXPECT_EQ(cache.count(), 2u);
    EXPECT_EQ(cache.bytes(), 2 * size);
    EXPECT_EQ(cache.get("a", make), a);
    EXPECT_EQ(made, 3);
    static_cast<void>(cache.get("b", make));
    EXPECT_EQ(made, 4);
    MetricCache tiny(size - 1);
    EXPECT_NE(tiny.get("a", make), nullptr);
    EXPECT_EQ(tiny.count(), 0u);
    EXPECT_EQ(tiny.bytes(), 0u);
}

}  // namespace
}  // namespace loamway
