// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/route.h"

#include <gtest/gtest.h>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <limits>
#include <map>
#include <set>
#include <tuple>

#include "support/plain_search.h"
#include "support/random_map.h"

// Oracle: Boost.Graph's Dijkstra over a graph made for each query whose vertices are "on this arc, having
// begun on private ground / on open roads / ending on private ground". It is written from the rules, not
// from the search: its own turn rule, its own three stages, every vertex explicit.

namespace loamway {
namespace {

class Oracle {
public:
    Oracle(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to,
           const std::vector<std::uint32_t>& primary)
        : m_roads(roads), m_graph(roads.graph()), m_from(from), m_to(to), m_primary(primary) {}

    // Packed (weight, length) of the best route.
    std::uint64_t best() {
        const std::uint32_t arcs = static_cast<std::uint32_t>(m_graph.arc_count());
        Lines lines(3 * arcs + 2);
        const std::uint32_t source = 3 * arcs, sink = 3 * arcs + 1;
        for (std::uint32_t a = 0; a < arcs; ++a)
            for (std::uint32_t stage = 0; stage < 3; ++stage)
                add_vertex_lines(lines, ArcId{a}, stage, source, sink);
        add_direct(lines, source, sink);
        std::vector<std::uint64_t> distance(boost::num_vertices(lines), unreached);
        boost::dijkstra_shortest_paths(
            lines, source,
            boost::distance_map(boost::make_iterator_property_map(distance.begin(),
                                                                  boost::get(boost::vertex_index, lines)))
                .distance_inf(unreached)
                .distance_combine([](std::uint64_t x, std::uint64_t y) {
                    return x == unreached || y == unreached ? unreached : x + y;
                }));
        return distance[sink];
    }

private:
    using Lines = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property,
                                        boost::property<boost::edge_weight_t, std::uint64_t>>;

    std::uint64_t weight(ArcId a, std::uint32_t from, std::uint32_t to) const {
        const std::uint32_t length = m_graph.arc(a).length_dm;
        const std::uint64_t w = m_primary[a.index()];
        const std::uint64_t share = length == 0 ? w : w * to / length - w * from / length;
        return (share << 32) + (to - from);
    }
    std::uint32_t offset(const RoadPoint& p, ArcId a) const {
        return m_graph.arc(a).reversed != 0 ? m_graph.arc(a).length_dm - p.offset_dm : p.offset_dm;
    }
    bool dead_end(ArcId in) const {
        const NodeId n = m_graph.head(in);
        if (m_roads.blocked(n))
            return true;
        for (std::uint32_t a = m_graph.arc_begin(n); a < m_graph.arc_end(n); ++a)
            if (m_graph.edge_of(ArcId{a}) != m_graph.edge_of(in) || m_graph.tail(ArcId{a}) == m_graph.head(ArcId{a}))
                if (ArcId{a} != m_graph.twin(in) && m_roads.open(ArcId{a}) && !m_roads.banned(in, ArcId{a}))
                    return false;
        return true;
    }
    bool allowed(ArcId in, ArcId out) const {
        if (!m_roads.open(in) || !m_roads.open(out) || m_graph.head(in) != m_graph.tail(out))
            return false;
        if (out == m_graph.twin(in))
            return dead_end(in);
        return !m_roads.blocked(m_graph.head(in)) && !m_roads.banned(in, out);
    }
    // Stage 0: private ground at the start; 1: open roads; 2: private ground at the end.
    bool stage_fits(ArcId a, std::uint32_t stage) const { return m_roads.ends_only(a) == (stage != 1); }

    void add_vertex_lines(Lines& lines, ArcId a, std::uint32_t stage, std::uint32_t source, std::uint32_t sink) {
        const std::uint32_t arcs = static_cast<std::uint32_t>(m_graph.arc_count());
        if (!m_roads.open(a) || !stage_fits(a, stage))
            return;
        const std::uint32_t length = m_graph.arc(a).length_dm;
        if (m_graph.edge_of(a) == m_from.edge && stage <= 1)
            boost::add_edge(source, stage * arcs + a.value(), weight(a, offset(m_from, a), length), lines);
        const NodeId n = m_graph.head(a);
        for (std::uint32_t b = m_graph.arc_begin(n); b < m_graph.arc_end(n); ++b) {
            if (!allowed(a, ArcId{b}))
                continue;
            for (std::uint32_t next = stage; next < 3; ++next) {
                if (!stage_fits(ArcId{b}, next))
                    continue;
                boost::add_edge(stage * arcs + a.value(), next * arcs + b,
                                weight(ArcId{b}, 0, m_graph.arc(ArcId{b}).length_dm), lines);
                if (m_graph.edge_of(ArcId{b}) == m_to.edge)
                    boost::add_edge(stage * arcs + a.value(), sink, weight(ArcId{b}, 0, offset(m_to, ArcId{b})),
                                    lines);
            }
        }
    }
    void add_direct(Lines& lines, std::uint32_t source, std::uint32_t sink) {
        if (m_from.edge != m_to.edge)
            return;
        for (const bool reversed : {false, true}) {
            const ArcId a = m_graph.arc_of(m_from.edge, reversed);
            if (m_roads.open(a) && offset(m_from, a) <= offset(m_to, a))
                boost::add_edge(source, sink, weight(a, offset(m_from, a), offset(m_to, a)), lines);
        }
    }

    const VehicleRoads& m_roads;
    const RoadGraph& m_graph;
    RoadPoint m_from, m_to;
    const std::vector<std::uint32_t>& m_primary;
};

std::vector<std::uint32_t> hard_weights(const RoadGraph& graph) {
    std::vector<std::uint32_t> w(graph.arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = graph.arc(ArcId{a}).length_dm * graph.edge(ArcId{a}).odds.hard;
    return w;
}
std::vector<std::uint32_t> length_weights(const RoadGraph& graph) {
    std::vector<std::uint32_t> w(graph.arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = graph.arc(ArcId{a}).length_dm;
    return w;
}

RoadPoint random_point(const RoadGraph& graph, const VehicleRoads& roads, TestRandom& random) {
    for (;;) {
        const EdgeId e{random.below(static_cast<std::uint32_t>(graph.region().edge_count()))};
        if (!roads.open(graph.arc_of(e, false)) && !roads.open(graph.arc_of(e, true)))
            continue;
        const std::uint32_t length = graph.region().edges[e.index()].length_dm;
        RoadPoint p;
        p.edge = e;
        p.offset_dm = random.chance(20) ? 0 : random.chance(20) ? length : random.below(length + 1);
        return p;
    }
}

// A route must be drivable piece by piece, and its sums must be those of its pieces.
void check_route(const VehicleRoads& roads, const Route& route, const std::vector<std::uint32_t>& primary) {
    const RoadGraph& graph = roads.graph();
    std::uint64_t weight = 0, length = 0;
    int changes = 0;
    for (std::size_t i = 0; i < route.pieces.size(); ++i) {
        const RoutePiece& p = route.pieces[i];
        ASSERT_TRUE(roads.open(p.arc));
        ASSERT_LE(p.from_dm, p.to_dm);
        ASSERT_LE(p.to_dm, graph.arc(p.arc).length_dm);
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
    EXPECT_LE(changes, 2);  // private ground only at the ends
}

TEST(Route, EqualsBoostDijkstraOnRandomNetworks) {
    int compared = 0, unreachable = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const Region region = random_region(seed, 5 + seed % 4, 6);
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        RouteFinder finder(roads);
        TestRandom random(seed * 977);
        for (int q = 0; q < 25; ++q) {
            const RoadPoint a = random_point(graph, roads, random), b = random_point(graph, roads, random);
            for (const auto& primary : {hard_weights(graph), length_weights(graph)}) {
                const auto route = finder.find(a, b, primary);
                const std::uint64_t expected = Oracle(roads, a, b, primary).best();
                if (expected == unreached) {
                    EXPECT_FALSE(route) << "seed " << seed << " query " << q;
                    ++unreachable;
                    continue;
                }
                ASSERT_TRUE(route) << "seed " << seed << " query " << q;
                EXPECT_EQ((route->primary << 32) + route->length_dm, expected) << "seed " << seed << " query " << q;
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
            const RoadPoint a = random_point(graph, roads, random), b = random_point(graph, roads, random);
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
    EXPECT_GT(binding, 60);
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
    const EdgeId in = m.edge(d, a, {{"highway", "unclassified"}}), out = m.edge(b, e, {{"highway", "unclassified"}});
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
        EXPECT_EQ(weight_between(weight, length, 0, cut) + weight_between(weight, length, cut, length), weight);
    }
}

}  // namespace
}  // namespace loamway
