// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SEARCH_LINE_GRAPH_H
#define LOAMWAY_TESTS_SEARCH_LINE_GRAPH_H

// Oracle: Boost.Graph's Dijkstra over a graph made for each query whose vertices are "on this arc, having
// begun on private ground / on open roads / ending on private ground". It is written from the rules, not
// from the search: its own turn rule, its own three stages, every vertex explicit.

#include <gtest/gtest.h>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <vector>

#include "loamway/search/route.h"
#include "support/plain_search.h"
#include "support/random_points.h"
#include "support/test_random.h"

namespace loamway::test {

class LineGraph {
public:
    LineGraph(const VehicleRoads& roads, const RoadPoint& from, const RoadPoint& to,
              const std::vector<std::uint32_t>& primary, const TurnPrices& turns = {})
        : m_roads(roads),
          m_graph(roads.graph()),
          m_from(from),
          m_to(to),
          m_primary(primary),
          m_turns(turns) {}

    // Packed (weight, length) of the best route.
    std::uint64_t best() {
        const std::uint32_t arcs = static_cast<std::uint32_t>(m_graph.arc_count());
        // Behind source and sink: where a start leaves nothing of its arc to drive, and so no turn off it.
        Lines lines(3 * arcs + 4);
        const std::uint32_t source = 3 * arcs, sink = 3 * arcs + 1;
        for (std::uint32_t a = 0; a < arcs; ++a)
            for (std::uint32_t stage = 0; stage < 3; ++stage)
                add_vertex_lines(lines, ArcId{a}, stage, source, sink);
        add_direct(lines, source, sink);
        std::vector<std::uint64_t> distance(boost::num_vertices(lines), unreached);
        boost::dijkstra_shortest_paths(
            lines, source,
            boost::distance_map(
                boost::make_iterator_property_map(distance.begin(), boost::get(boost::vertex_index, lines)))
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
            if (m_graph.edge_of(ArcId{a}) != m_graph.edge_of(in) ||
                m_graph.tail(ArcId{a}) == m_graph.head(ArcId{a}))
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

    void add_vertex_lines(Lines& lines, ArcId a, std::uint32_t stage, std::uint32_t source,
                          std::uint32_t sink) {
        if (!m_roads.open(a) || !stage_fits(a, stage))
            return;
        const std::uint32_t arcs = static_cast<std::uint32_t>(m_graph.arc_count());
        const std::uint32_t length = m_graph.arc(a).length_dm, vertex = stage * arcs + a.value();
        if (m_graph.edge_of(a) == m_from.edge && stage <= 1) {
            const bool undriven = length > 0 && offset(m_from, a) == length;
            const std::uint32_t start = undriven ? sink + 1 + m_graph.arc(a).reversed : vertex;
            boost::add_edge(source, start, weight(a, offset(m_from, a), length), lines);
            if (undriven)
                add_ways_on(lines, a, stage, start, sink, false);
        }
        add_ways_on(lines, a, stage, vertex, sink, true);
    }
    void add_ways_on(Lines& lines, ArcId a, std::uint32_t stage, std::uint32_t vertex, std::uint32_t sink,
                     bool driven) {
        const std::uint32_t arcs = static_cast<std::uint32_t>(m_graph.arc_count());
        const NodeId n = m_graph.head(a);
        for (std::uint32_t i = m_graph.arc_begin(n); i < m_graph.arc_end(n); ++i) {
            const ArcId b{i};
            if (!allowed(a, b))
                continue;
            const std::uint32_t length = m_graph.arc(b).length_dm;
            const std::uint64_t turn = driven ? std::uint64_t{m_turns(a, b)} << 32 : 0;
            for (std::uint32_t next = stage; next < 3; ++next) {
                if (!stage_fits(b, next))
                    continue;
                boost::add_edge(vertex, next * arcs + i, turn + weight(b, 0, length), lines);
                if (m_graph.edge_of(b) != m_to.edge)
                    continue;
                const bool stays = length > 0 && offset(m_to, b) == 0;
                boost::add_edge(vertex, sink, (stays ? 0 : turn) + weight(b, 0, offset(m_to, b)), lines);
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
    const TurnPrices& m_turns;
};

inline std::vector<std::uint32_t> hard_weights(const RoadGraph& graph) {
    std::vector<std::uint32_t> w(graph.arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = graph.arc(ArcId{a}).length_dm * graph.edge(ArcId{a}).odds.hard;
    return w;
}
inline std::vector<std::uint32_t> length_weights(const RoadGraph& graph) {
    std::vector<std::uint32_t> w(graph.arc_count());
    for (std::size_t a = 0; a < w.size(); ++a)
        w[a] = graph.arc(ArcId{a}).length_dm;
    return w;
}

// A route must be drivable piece by piece, and its sums must be those of its pieces.
inline void check_route(const VehicleRoads& roads, const Route& route,
                        const std::vector<std::uint32_t>& primary, const TurnPrices& turns = {}) {
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
        weight += turns(before.arc, p.arc);
        changes += roads.ends_only(before.arc) != roads.ends_only(p.arc) ? 1 : 0;
    }
    EXPECT_EQ(weight, route.primary);
    EXPECT_EQ(length, route.length_dm);
    EXPECT_LE(changes, 2);  // private ground only at the ends
}

/// Prices for turns drawn from a hash, so that a pair of arcs always has the same: most turns are free, or
/// few are.
inline TurnPrices random_turn_prices(std::uint64_t seed, std::uint32_t free_percent, std::uint32_t most) {
    return TurnPrices([=](ArcId in, ArcId out) {
        TestRandom random(seed * 1000003 + (std::uint64_t{in.value()} << 32) + out.value());
        return random.chance(free_percent) ? 0 : random.below(most);
    });
}

}  // namespace loamway::test

#endif
