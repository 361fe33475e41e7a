// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/front.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "support/plain_front.h"
#include "support/random_map.h"
#include "support/random_points.h"

namespace loamway {
namespace {

using test::random_point;

struct Weights {
    std::vector<std::uint32_t> hard, length;
    explicit Weights(const RoadGraph& graph) {
        for (std::uint32_t a = 0; a < graph.arc_count(); ++a) {
            length.push_back(graph.arc(ArcId{a}).length_dm);
            hard.push_back(length.back() * graph.edge(ArcId{a}).odds.hard);
        }
    }
};

RoadPoint at(EdgeId edge, std::uint32_t offset_dm) {
    RoadPoint p;
    p.edge = edge;
    p.offset_dm = offset_dm;
    return p;
}

Front front_of(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to,
               const std::vector<std::uint32_t>& primary, std::uint64_t cap) {
    FrontQuestion q;
    q.from = from;
    q.to = to;
    q.primary = primary;
    q.cap_dm = cap;
    return find_front(roads, q);
}

std::vector<PlainPair> pairs(const Front& front) {
    std::vector<PlainPair> out;
    for (const FrontSums& p : front.points())
        out.emplace_back(p.primary, p.length_dm);
    return out;
}

// Whether a position on an arc is the point, which may be a node that two arcs share.
bool is_at(const RoadGraph& graph, const RoadPoint& point, ArcId arc, std::uint32_t dm) {
    const std::uint32_t length = graph.arc(arc).length_dm;
    if (graph.edge_of(arc) == point.edge &&
        point.offset_dm == (graph.arc(arc).reversed != 0 ? length - dm : dm))
        return true;
    const ArcId along = graph.arc_of(point.edge, false);
    for (const auto& [here, is_here] :
         {std::pair{graph.tail(arc), dm == 0}, std::pair{graph.head(arc), dm == length}})
        if (is_here && ((point.offset_dm == 0 && graph.tail(along) == here) ||
                        (point.offset_dm == graph.arc(along).length_dm && graph.head(along) == here)))
            return true;
    return false;
}

// The route of each point can be driven piece by piece and has the point's sums.
void check_routes(const VehicleRoads& roads, const Front& front, const RoadPoint& from, const RoadPoint& to,
                  const std::vector<std::uint32_t>& primary) {
    const RoadGraph& graph = roads.graph();
    for (std::size_t i = 0; i < front.points().size(); ++i) {
        const Route route = front.route(i);
        std::uint64_t weight = 0, length = 0;
        int changes = 0;
        const RoutePiece* before = nullptr;
        for (const RoutePiece& p : route.pieces) {
            const std::uint32_t arc_length = graph.arc(p.arc).length_dm;
            ASSERT_TRUE(roads.open(p.arc));
            ASSERT_LE(p.from_dm, p.to_dm);
            ASSERT_LE(p.to_dm, arc_length);
            weight += weight_between(primary[p.arc.index()], arc_length, p.from_dm, p.to_dm);
            length += p.length_dm();
            if (before != nullptr) {
                ASSERT_EQ(before->to_dm, graph.arc(before->arc).length_dm);
                ASSERT_EQ(p.from_dm, 0u);
                ASSERT_EQ(graph.head(before->arc), graph.tail(p.arc));
                ASSERT_TRUE(roads.may_follow(before->arc, p.arc));
                changes += roads.ends_only(before->arc) != roads.ends_only(p.arc) ? 1 : 0;
            }
            before = &p;
        }
        EXPECT_LE(changes, 2);  // private ground only at the ends
        EXPECT_EQ(weight, front.points()[i].primary);
        EXPECT_EQ(length, front.points()[i].length_dm);
        EXPECT_EQ(route.primary, front.points()[i].primary);
        EXPECT_EQ(route.length_dm, front.points()[i].length_dm);
        EXPECT_TRUE(is_at(graph, from, route.pieces.front().arc, route.pieces.front().from_dm));
        EXPECT_TRUE(is_at(graph, to, route.pieces.back().arc, route.pieces.back().to_dm));
    }
}

struct Tally {
    int compared = 0, none = 0, points = 0, longest = 0, capped = 0;
};

// Every other network has weights that know nothing of lengths, so that there is more to choose from.
std::vector<std::uint32_t> weights_for(std::uint64_t seed, const Weights& weights, TestRandom& random) {
    std::vector<std::uint32_t> w = weights.hard;
    if (seed % 2 == 0)
        for (std::uint32_t& x : w)
            x = random.chance(15) ? 0 : random.below(3000000);
    return w;
}

void compare_on(std::uint64_t seed, std::uint32_t rows, std::uint32_t columns, int questions, Tally& tally) {
    const Region region = random_region(seed, rows, columns);
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    const Weights weights(graph);
    RouteFinder finder(roads);
    TestRandom random(seed * 613);
    const std::vector<std::uint32_t> primary = weights_for(seed, weights, random);
    for (int q = 0; q < questions; ++q) {
        const RoadPoint a = random_point(roads, random), b = random_point(roads, random);
        SCOPED_TRACE("seed " + std::to_string(seed) + " question " + std::to_string(q));
        const auto shortest = finder.find(a, b, weights.length);
        const std::uint64_t cap = !shortest           ? 1000000
                                  : random.chance(40) ? no_cap
                                                      : shortest->length_dm * (100 + random.below(80)) / 100;
        const Front front = front_of(roads, a, b, primary, cap);
        EXPECT_TRUE(front.exact());
        ASSERT_EQ(pairs(front), PlainFront(roads, a, b, primary, cap).all());
        ++tally.compared;
        if (!shortest) {
            EXPECT_TRUE(front.points().empty());
            ++tally.none;
            continue;
        }
        check_routes(roads, front, a, b, primary);
        const auto softest = finder.find(a, b, primary, cap);
        EXPECT_EQ(front.points().back().length_dm, shortest->length_dm);
        EXPECT_EQ(front.points().front(), (FrontSums{softest->primary, softest->length_dm}));
        tally.points += static_cast<int>(front.points().size());
        tally.longest = std::max(tally.longest, static_cast<int>(front.points().size()));
        tally.capped += finder.find(a, b, primary)->length_dm > cap ? 1 : 0;
    }
}

TEST(Front, EqualsPlainLabelSettingOnHundredsOfNetworks) {
    Tally tally;
    for (std::uint64_t seed = 1; seed <= 300; ++seed)
        compare_on(seed, 3 + seed % 4, 5, 6, tally);
    for (std::uint64_t seed = 1001; seed <= 1120; ++seed)
        compare_on(seed, 12, 12, 4, tally);
    EXPECT_EQ(tally.compared, 300 * 6 + 120 * 4);
    // Worth comparing: pairs that do not connect, caps that bind, fronts with a choice.
    EXPECT_GT(tally.none, 50);
    EXPECT_GT(tally.capped, 100);
    EXPECT_GT(tally.points, 3000);
    EXPECT_GT(tally.longest, 12);
}

TEST(Front, TwoRoadsBetweenTheSameNodesAreTwoChoices) {
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.2001), c = m.node(53.50, 13.2005),
                 d = m.node(53.50, 13.2005);
    TinyEdge plain;
    plain.tags = {{"highway", "unclassified"}};
    const auto road = [&](NodeId from, NodeId to, std::uint32_t length, std::uint8_t hard) {
        TinyEdge e = plain;
        e.length_dm = length;
        e.odds = {hard, static_cast<std::uint8_t>(200 - hard), 0};
        return m.road(from, to, e);
    };
    const EdgeId first = road(a, b, 100, 0);
    road(b, c, 1000, 200);
    road(b, c, 1500, 0);
    road(b, c, 1600, 0);    // longer and no softer
    road(b, c, 1200, 200);  // longer and no softer than the first
    const EdgeId last = road(c, d, 0, 200);
    const Region region = Region::from_data(m.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    const Weights weights(graph);
    const Front front = front_of(roads, at(first, 0), at(last, 0), weights.hard, no_cap);
    EXPECT_EQ(pairs(front), (std::vector<PlainPair>{{0, 1600}, {200000, 1100}}));
    // The cap is met exactly, and a decimetre below it the choice is gone.
    EXPECT_EQ(front_of(roads, at(first, 0), at(last, 0), weights.hard, 1600).points().size(), 2u);
    EXPECT_EQ(pairs(front_of(roads, at(first, 0), at(last, 0), weights.hard, 1599)),
              (std::vector<PlainPair>{{200000, 1100}}));
    EXPECT_TRUE(front_of(roads, at(first, 0), at(last, 0), weights.hard, 1099).points().empty());
}

TEST(Front, ABudgetThatRunsOutIsSaidAndKeepsBothEnds) {
    int cut = 0;
    for (std::uint64_t seed = 2001; seed <= 2020; ++seed) {
        const Region region = random_region(seed, 9, 9);
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        const Weights weights(graph);
        TestRandom random(seed);
        FrontQuestion q;
        q.from = random_point(roads, random);
        q.to = random_point(roads, random);
        q.primary = weights.hard;
        const Front whole = find_front(roads, q);
        for (const std::size_t budget : {std::size_t{0}, std::size_t{1}, whole.labels() / 2}) {
            q.label_budget = budget;
            const Front front = find_front(roads, q);
            EXPECT_EQ(front.points().empty(), whole.points().empty());
            if (front.exact()) {
                EXPECT_EQ(front.points(), whole.points());
                continue;
            }
            ++cut;
            EXPECT_LE(front.labels(), budget);
            ASSERT_FALSE(front.points().empty());
            EXPECT_EQ(front.points().back(), whole.points().back());
            if (budget > 1) {
                EXPECT_EQ(front.points().front().primary, whole.points().front().primary);
            }
            check_routes(roads, front, q.from, q.to, weights.hard);
        }
    }
    EXPECT_GT(cut, 20);
}

TEST(Front, TheSameQuestionHasTheSameRoutes) {
    const Region region = random_region(77, 9, 9);
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    const Weights weights(graph);
    TestRandom random(3);
    for (int q = 0; q < 10; ++q) {
        const RoadPoint a = random_point(roads, random), b = random_point(roads, random);
        const Front one = front_of(roads, a, b, weights.hard, no_cap);
        const Front two = front_of(roads, a, b, weights.hard, no_cap);
        ASSERT_EQ(one.points(), two.points());
        for (std::size_t i = 0; i < one.points().size(); ++i)
            EXPECT_EQ(one.route(i).pieces, two.route(i).pieces);
    }
}

TEST(ThinFront, KeepsBothEndsAndIsFarFromCrowding) {
    TestRandom random(11);
    for (int i = 0; i < 200; ++i) {
        std::vector<FrontSums> points;
        const std::size_t count = 1 + random.below(60);
        std::uint64_t primary = random.below(1000), length = 4000000;
        for (std::size_t k = 0; k < count; ++k) {
            points.push_back({primary, length});
            primary += 1 + random.below(random.chance(10) ? 500000 : 5000);
            length -= 1 + random.below(random.chance(10) ? 50000 : 500);
        }
        const auto taken = thin_front(points);
        ASSERT_EQ(taken.size(), std::min<std::size_t>(12, count));
        EXPECT_TRUE(std::is_sorted(taken.begin(), taken.end()));
        EXPECT_EQ(std::adjacent_find(taken.begin(), taken.end()), taken.end());
        EXPECT_EQ(taken.front(), 0u);
        EXPECT_EQ(taken.back(), count - 1);
        // Whatever was left out is nearer to something taken than the taken are to each other.
        if (count <= 12)
            continue;
        const auto far = [&](std::size_t a, std::size_t b) {
            const FrontSums &x = points[std::min(a, b)], &y = points[std::max(a, b)];
            return static_cast<double>(y.primary - x.primary) /
                       static_cast<double>(points.back().primary - points.front().primary) +
                   static_cast<double>(x.length_dm - y.length_dm) /
                       static_cast<double>(points.front().length_dm - points.back().length_dm);
        };
        double between = 2;
        for (std::size_t t = 1; t < taken.size(); ++t)
            between = std::min(between, far(taken[t - 1], taken[t]));
        for (std::size_t k = 0; k < count; ++k) {
            double nearest = 2;
            for (const std::size_t t : taken)
                nearest = std::min(nearest, far(k, t));
            EXPECT_LE(nearest, between + 1e-9);
        }
        // Fewer are some of the same.
        const auto fewer = thin_front(points, 5);
        EXPECT_EQ(fewer.size(), 5u);
        EXPECT_TRUE(std::includes(taken.begin(), taken.end(), fewer.begin(), fewer.end()));
    }
}

TEST(ThinFront, SmallFrontsStayWhole) {
    EXPECT_TRUE(thin_front(std::vector<FrontSums>{}).empty());
    EXPECT_EQ(thin_front(std::vector<FrontSums>{{5, 5}}), (std::vector<std::size_t>{0}));
    const std::vector<FrontSums> three{{0, 90}, {10, 50}, {50, 40}};
    EXPECT_EQ(thin_front(three), (std::vector<std::size_t>{0, 1, 2}));
    EXPECT_EQ(thin_front(three, 2), (std::vector<std::size_t>{0, 2}));
}

}  // namespace
}  // namespace loamway
