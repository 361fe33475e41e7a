// SPDX-License-Identifier: Apache-2.0
// Turn restrictions over several roads, against an oracle whose states remember the last two arcs outright.
#include <gtest/gtest.h>

#include <array>
#include <map>
#include <set>

#include "loamway/search/front.h"
#include "loamway/search/route.h"
#include "support/plain_search.h"
#include "support/random_map.h"

namespace loamway {
namespace {

struct ChainMap {
    Region region;
    std::set<std::array<std::uint32_t, 3>> no, only;  // edges, driven in this order
};

ChainMap random_chain_map(std::uint64_t seed) {
    TestRandom random(seed);
    TinyMap map;
    constexpr std::uint32_t side = 4;
    std::vector<NodeId> nodes;
    for (std::uint32_t n = 0; n < side * side; ++n)
        nodes.push_back(map.node(53.0 + 0.01 * (n / side), 13.0 + 0.01 * (n % side)));
    std::vector<std::vector<std::pair<EdgeId, std::uint32_t>>> at(nodes.size());
    const auto join = [&](std::uint32_t a, std::uint32_t b) {
        TinyEdge e;
        e.tags = {{"highway", "tertiary"}};
        if (random.chance(12))
            e.tags.emplace_back("access", "private");
        e.length_dm = 100 + random.below(900);
        const EdgeId id = map.road(nodes[a], nodes[b], e);
        at[a].emplace_back(id, b);
        at[b].emplace_back(id, a);
    };
    for (std::uint32_t n = 0; n < nodes.size(); ++n) {
        if (n % side + 1 < side)
            join(n, n + 1);
        if (n + side < nodes.size())
            join(n, n + side);
    }
    ChainMap out{Region::from_data(map.build()), {}, {}};
    std::vector<std::array<std::uint32_t, 4>> wanted;
    for (int i = 0; i < 14; ++i) {
        // A walk of three edges.
        std::uint32_t node = random.below(side * side);
        const auto [e0, n1] = at[node][random.below(static_cast<std::uint32_t>(at[node].size()))];
        const auto [e1, n2] = at[n1][random.below(static_cast<std::uint32_t>(at[n1].size()))];
        const auto [e2, n3] = at[n2][random.below(static_cast<std::uint32_t>(at[n2].size()))];
        if (e0 == e1 || e1 == e2)
            continue;
        const bool only = random.chance(25);
        map.restriction({e0, e1, e2}, nodes[n1], only,
                        {{"restriction", only ? "only_straight_on" : "no_left_turn"}});
        (only ? out.only : out.no).insert({e0.value(), e1.value(), e2.value()});
    }
    out.region = Region::from_data(map.build());
    return out;
}

bool chain_forbids(const ChainMap& m, std::uint32_t e0, std::uint32_t e1, std::uint32_t e2) {
    if (m.no.contains({e0, e1, e2}))
        return true;
    // Each only_* along e0, e1 allows one way on.
    for (const auto& o : m.only)
        if (o[0] == e0 && o[1] == e1 && o[2] != e2)
            return true;
    return false;
}

std::uint64_t oracle(const VehicleRoads& roads, const ChainMap& m, const RoadPoint& from,
                     const RoadPoint& to) {
    const RoadGraph& graph = roads.graph();
    struct State {
        std::uint32_t before, arc;
        int stage;
        auto operator<=>(const State&) const = default;
    };
    const std::uint32_t none = 0xffffffffu;
    std::map<State, std::uint64_t> least;
    std::set<std::pair<std::uint64_t, State>> queue;
    std::uint64_t best = unreached;
    const auto offset = [&](const RoadPoint& p, ArcId a) {
        return graph.arc(a).reversed != 0 ? graph.arc(a).length_dm - p.offset_dm : p.offset_dm;
    };
    const auto reach = [&](State s, std::uint64_t cost) {
        const auto [it, added] = least.try_emplace(s, cost);
        if (!added && it->second <= cost)
            return;
        it->second = cost;
        queue.insert({cost, s});
    };
    for (const bool reversed : {false, true}) {
        const ArcId a = graph.arc_of(from.edge, reversed);
        if (!roads.open(a))
            continue;
        reach({none, a.value(), roads.ends_only(a) ? 0 : 1}, graph.arc(a).length_dm - offset(from, a));
        if (from.edge == to.edge && offset(from, a) <= offset(to, a))
            best = std::min<std::uint64_t>(best, offset(to, a) - offset(from, a));
    }
    while (!queue.empty()) {
        const auto [cost, s] = *queue.begin();
        queue.erase(queue.begin());
        const ArcId in{s.arc};
        for (std::uint32_t b = graph.arc_begin(graph.head(in)); b < graph.arc_end(graph.head(in)); ++b) {
            const ArcId out{b};
            if (!roads.may_follow(in, out))
                continue;
            if (s.before != none && chain_forbids(m, graph.edge_of(ArcId{s.before}).value(),
                                                  graph.edge_of(in).value(), graph.edge_of(out).value()))
                continue;
            const int stage = !roads.ends_only(out) ? 1 : s.stage == 0 ? 0 : 2;
            if (s.stage == 2 && stage == 1)
                continue;
            if (graph.edge_of(out) == to.edge)
                best = std::min(best, cost + offset(to, out));
            reach({s.arc, b, stage}, cost + graph.arc(out).length_dm);
        }
    }
    return best;
}

TEST(TurnChains, RoutesEqualAnOracleThatRemembersTwoArcs) {
    int compared = 0, longer = 0;
    for (std::uint64_t seed = 1; seed <= 80; ++seed) {
        const ChainMap m = random_chain_map(seed);
        const ChainMap plain{m.region, {}, {}};
        const RoadGraph graph(m.region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        EXPECT_FALSE(roads.turn_chains().empty());
        std::vector<std::uint32_t> lengths;
        for (std::uint32_t a = 0; a < graph.arc_count(); ++a)
            lengths.push_back(graph.arc(ArcId{a}).length_dm);
        RouteFinder finder(roads);
        TestRandom random(seed);
        for (int i = 0; i < 15; ++i) {
            RoadPoint a, b;
            a.edge = EdgeId{random.below(static_cast<std::uint32_t>(m.region.view().edge_count()))};
            b.edge = EdgeId{random.below(static_cast<std::uint32_t>(m.region.view().edge_count()))};
            a.offset_dm = b.offset_dm = 50;
            const auto route = finder.find(a, b, lengths);
            const std::uint64_t expected = oracle(roads, m, a, b);
            ASSERT_EQ(route.has_value(), expected != unreached) << "seed " << seed << " query " << i;
            if (!route)
                continue;
            EXPECT_EQ(route->length_dm, expected) << "seed " << seed << " query " << i;
            for (std::size_t p = 2; p < route->pieces.size(); ++p)
                EXPECT_FALSE(chain_forbids(m, graph.edge_of(route->pieces[p - 2].arc).value(),
                                           graph.edge_of(route->pieces[p - 1].arc).value(),
                                           graph.edge_of(route->pieces[p].arc).value()));
            ++compared;
            longer += expected > oracle(roads, plain, a, b) ? 1 : 0;
        }
    }
    EXPECT_GT(compared, 900);
    EXPECT_GT(longer, 40);  // restrictions over several roads decide often enough to be tried
}

TEST(TurnChains, EveryChoiceOfAFrontObeysThem) {
    int routes = 0;
    for (std::uint64_t seed = 101; seed <= 140; ++seed) {
        const ChainMap m = random_chain_map(seed);
        const RoadGraph graph(m.region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        TestRandom random(seed);
        std::vector<std::uint32_t> weights;
        for (std::uint32_t a = 0; a < graph.arc_count(); ++a)
            weights.push_back(random.below(100000));
        for (int i = 0; i < 15; ++i) {
            FrontQuestion q;
            q.from.edge = EdgeId{random.below(static_cast<std::uint32_t>(m.region.view().edge_count()))};
            q.to.edge = EdgeId{random.below(static_cast<std::uint32_t>(m.region.view().edge_count()))};
            q.from.offset_dm = q.to.offset_dm = 50;
            q.primary = weights;
            const Front front = find_front(roads, q);
            const std::uint64_t expected = oracle(roads, m, q.from, q.to);
            ASSERT_EQ(front.points().empty(), expected == unreached) << "seed " << seed << " query " << i;
            if (front.points().empty())
                continue;
            EXPECT_EQ(front.points().back().length_dm, expected) << "seed " << seed << " query " << i;
            for (std::size_t p = 0; p < front.points().size(); ++p) {
                const std::vector<RoutePiece> pieces = front.route(p).pieces;
                for (std::size_t k = 2; k < pieces.size(); ++k)
                    EXPECT_FALSE(chain_forbids(m, graph.edge_of(pieces[k - 2].arc).value(),
                                               graph.edge_of(pieces[k - 1].arc).value(),
                                               graph.edge_of(pieces[k].arc).value()));
                ++routes;
            }
        }
    }
    EXPECT_GT(routes, 800);
}

}  // namespace
}  // namespace loamway
