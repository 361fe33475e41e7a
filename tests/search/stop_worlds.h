// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SEARCH_STOP_WORLDS_H
#define LOAMWAY_TESTS_SEARCH_STOP_WORLDS_H

// Small road networks with places to stop, and the slowest search there is for them.

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "loamway/search/stop_search.h"
#include "support/ordered_region.h"
#include "support/plain_search.h"
#include "support/random_map.h"
#include "support/random_points.h"

namespace loamway::test {

// Lengths are whole hundreds of metres here, so that "driven since" and "length" take few values and the
// oracle can give every combination a state of its own: Dijkstra without dominance, bounds or labels.
constexpr std::uint32_t unit = 1000;
constexpr std::uint64_t interval = 9 * unit;

struct World {
    Region region;
    StopOffers offers;
    std::vector<std::uint32_t> weights, prices;
};

/// A maze has more one-way roads, parallel roads and roads of no length.
inline Region random_unit_region(TestRandom& random, std::uint32_t rows, std::uint32_t columns, bool maze) {
    TinyMap map;
    std::vector<NodeId> nodes;
    // Close together, so that a road of any length may join them: none is shorter than the ground.
    for (std::uint32_t n = 0; n < rows * columns; ++n)
        nodes.push_back(map.node(53.0 + 0.0001 * (n / columns), 13.0 + 0.0001 * (n % columns)));
    std::vector<std::vector<EdgeId>> at(nodes.size());
    const auto join = [&](std::uint32_t a, std::uint32_t b) {
        TinyEdge e;
        e.tags = random_road_tags(random);
        if (maze && random.chance(30))
            e.tags = {{"highway", "track"}, {"oneway", random.chance(50) ? "yes" : "-1"}};
        e.length_dm = unit * random.below(maze ? 3 : 5);
        const EdgeId id = map.road(nodes[a], nodes[b], e);
        at[a].push_back(id);
        at[b].push_back(id);
    };
    for (std::uint32_t n = 0; n < nodes.size(); ++n) {
        if (n % columns + 1 < columns && !random.chance(10))
            join(n, n + 1);
        if (n + columns < nodes.size() && !random.chance(10))
            join(n, n + columns);
        if (maze && n > 0 && random.chance(20))
            join(n, n - 1);
    }
    for (std::uint32_t n = 0; n < nodes.size(); ++n)
        if (at[n].size() >= 2 && random.chance(15))
            map.restriction({at[n][0], at[n][1]}, nodes[n], false, {{"restriction", "no_left_turn"}});
    return Region::from_data(ordered(map.build()));
}

/// `turning`: of a hundred places, how many have room to turn round.
inline World random_world(std::uint64_t seed, std::uint32_t turning = 0, bool maze = false) {
    TestRandom random(seed);
    World w{random_unit_region(random, 4, 4, maze), {}, {}, {}};
    const RoadGraph graph(w.region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    for (std::uint32_t e = 0; e < w.region.view().edge_count(); ++e)
        if (random.chance(18))
            w.offers.beside.push_back({EdgeId{e},
                                       unit * random.below(w.region.view().edges[e].length_dm / unit + 1),
                                       random.chance(turning)});
    for (std::uint32_t a = 0; a < graph.arc_count(); ++a)
        if (random.chance(12) && graph.arc(ArcId{a}).length_dm >= unit && roads.open(ArcId{a}) &&
            roads.open(graph.twin(ArcId{a})))
            w.offers.mouths.push_back({ArcId{a}, unit, random.chance(turning)});
    std::sort(w.offers.mouths.begin(), w.offers.mouths.end(), [&](const MouthOffer& a, const MouthOffer& b) {
        return std::pair(graph.tail(a.spur), a.spur) < std::pair(graph.tail(b.spur), b.spur);
    });
    if (random.chance(50)) {
        w.offers.ford_edge.assign(w.region.view().edge_count(), false);
        w.offers.ford_node.assign(graph.node_count(), false);
        for (std::size_t e = 0; e < w.offers.ford_edge.size(); ++e)
            w.offers.ford_edge[e] = random.chance(5);
        for (std::size_t n = 0; n < w.offers.ford_node.size(); ++n)
            w.offers.ford_node[n] = random.chance(5);
    }
    for (std::uint32_t a = 0; a < graph.arc_count(); ++a)
        w.weights.push_back(graph.arc(ArcId{a}).length_dm / unit * random.below(60));
    for (std::size_t o = 0; o < w.offers.size(); ++o)
        w.prices.push_back(random.below(40));
    return w;
}

inline World adversarial_world(std::uint64_t seed) {
    return random_world(seed, 40, true);
}

// Position of a vehicle: on an arc, so far along it, at one of three stages of private and open ground.
struct Spot {
    std::uint32_t arc = 0, at = 0;
    int stage = 1;
    int mouth = -1;  // has just come out of this mouth at the arc's end
    std::uint64_t since = 0;
    bool dry = false;
    bool fresh = false;  // nothing driven yet
    std::uint64_t length = 0;
    friend auto operator<=>(const Spot&, const Spot&) = default;
};

class StopOracle {
public:
    StopOracle(const VehicleRoads& roads, const World& w, const StopSearchQuestion& q)
        : m_roads(roads), m_graph(roads.graph()), m_w(w), m_q(q) {}

    // Least (weight, length), or unreached.
    std::uint64_t best() {
        for (const bool reversed : {false, true}) {
            const ArcId a = m_graph.arc_of(m_q.from.edge, reversed);
            if (!m_roads.open(a))
                continue;
            Spot s;
            s.arc = a.value();
            s.at = offset(m_q.from, a);
            s.stage = m_roads.ends_only(a) ? 0 : 1;
            s.since = m_q.since_dm;
            s.fresh = true;
            reach(s, 0);
        }
        while (!m_queue.empty()) {
            const auto [cost, spot] = *m_queue.begin();
            m_queue.erase(m_queue.begin());
            if (std::get<0>(cost) >= m_best_weight && m_best != unreached)
                break;
            expand(spot, std::get<0>(cost));
        }
        return m_best;
    }

private:
    using Cost = std::tuple<std::uint64_t>;

    std::uint32_t offset(const RoadPoint& p, ArcId a) const {
        return m_graph.arc(a).reversed != 0 ? m_graph.arc(a).length_dm - p.offset_dm : p.offset_dm;
    }
    void reach(const Spot& s, std::uint64_t cost) {
        if (s.since > m_q.interval_dm || s.length > std::min<std::uint64_t>(m_q.cap_dm, 60 * unit))
            return;
        const auto [at, added] = m_least.try_emplace(s, cost);
        if (!added && at->second <= cost)
            return;
        at->second = cost;
        m_queue.insert({{cost}, s});
    }
    // Beside places on an arc from a position on; `past` leaves out those at the position itself.
    std::vector<std::pair<std::uint32_t, std::uint32_t>> beside(ArcId a) const {
        std::vector<std::pair<std::uint32_t, std::uint32_t>> out;
        for (std::uint32_t o = 0; o < m_w.offers.beside.size(); ++o)
            if (m_w.offers.beside[o].edge == m_graph.edge_of(a)) {
                const std::uint32_t at = m_w.offers.beside[o].offset_dm;
                out.emplace_back(m_graph.arc(a).reversed != 0 ? m_graph.arc(a).length_dm - at : at, o);
            }
        std::sort(out.begin(), out.end());
        return out;
    }
    std::uint64_t part(ArcId a, std::uint32_t from, std::uint32_t to) const {
        return weight_between(m_w.weights[a.index()], m_graph.arc(a).length_dm, from, to);
    }
    bool serves(const MouthOffer& m, ArcId in) const {
        return m_graph.tail(m.spur) == m_graph.head(in) && m_graph.edge_of(m.spur) != m_graph.edge_of(in) &&
               m_roads.may_follow(in, m.spur);
    }
    bool leads(const MouthOffer& m, ArcId out) const {
        return m_graph.edge_of(m.spur) != m_graph.edge_of(out) && !m_roads.banned(m_graph.twin(m.spur), out);
    }

    // A spot with at < length is under way on its arc ("fresh" at a place when since is 0 and at is one).
    void expand(const Spot& s, std::uint64_t cost) {
        const ArcId a{s.arc};
        if (m_done_arcs.contains({s, cost}))
            return;
        m_done_arcs.insert({s, cost});
        drive(s, cost, a, s.at, m_started.contains(s));
    }
    void drive(const Spot& s, std::uint64_t cost, ArcId a, std::uint32_t from, bool at_place) {
        const std::uint32_t length = m_graph.arc(a).length_dm;
        std::uint32_t stop_at = length + 1;
        for (const auto& [at, offer] : beside(a)) {
            if (at < from || (at == from && at_place))
                continue;
            if (s.dry && at > stop_at)
                break;
            if (s.since + at - from > m_q.interval_dm)
                break;
            Spot n = s;
            n.arc = a.value();
            n.at = at;
            n.mouth = -1;
            n.since = 0;
            n.dry = false;
            n.fresh = s.fresh && at == from && length > 0;
            n.length += at - from;
            m_started.insert(n);
            reach(n, cost + part(a, from, at) + m_w.prices[offer]);
            if (m_w.offers.beside[offer].turns && at > from)
                turn_round(n, cost + part(a, from, at) + m_w.prices[offer]);
            if (s.dry)
                stop_at = at;
        }
        const auto first = [&] {
            for (const auto& [at, offer] : beside(a))
                if (at > from || (at == from && !at_place))
                    return at;
            return length + 1;
        }();
        const std::uint32_t limit = s.dry ? first : length + 1;
        if (m_graph.edge_of(a) == m_q.to.edge && m_roads.open(a)) {
            const std::uint32_t to = offset(m_q.to, a);
            if (to >= from && to < limit && s.since + to - from <= m_q.interval_dm)
                finish(cost + part(a, from, to), s.length + to - from);
        }
        if (length >= limit || s.since + length - from > m_q.interval_dm)
            return;
        Spot end = s;
        end.since += length - from;
        end.fresh = s.fresh && from == length && length > 0;
        end.length += length - from;
        if (end.length > m_q.cap_dm)
            return;
        end.dry =
            s.dry || (!m_w.offers.ford_edge.empty() && m_w.offers.ford_edge[m_graph.edge_of(a).index()]);
        turn(end, cost + part(a, from, length), a, -1);
        for (std::uint32_t i = 0; i < m_w.offers.mouths.size(); ++i) {
            const MouthOffer& m = m_w.offers.mouths[i];
            if (!serves(m, a) || end.since + m.depth_dm > m_q.interval_dm)
                continue;
            Spot out = end;
            out.since = m.depth_dm;
            out.dry = false;
            turn(out, cost + part(a, from, length) + m_w.prices[m_w.offers.beside.size() + i], a,
                 static_cast<int>(i));
        }
    }
    // From a stop on an arc back along its twin.
    void turn_round(Spot n, std::uint64_t cost) {
        const ArcId in{n.arc}, back = m_graph.twin(in);
        if (!m_roads.open(back) || (n.stage == 2 && !m_roads.ends_only(back)))
            return;
        n.arc = back.value();
        n.at = m_graph.arc(in).length_dm - n.at;
        n.stage = !m_roads.ends_only(back) ? 1 : n.stage == 0 ? 0 : 2;
        m_started.insert(n);
        reach(n, cost + m_q.turns(in, back));
    }
    void finish(std::uint64_t weight, std::uint64_t length) {
        if (length > m_q.cap_dm ||
            (m_best != unreached && std::pair(weight, length) >= std::pair(m_best_weight, m_best_length)))
            return;
        m_best_weight = weight;
        m_best_length = length;
        m_best = (weight << 32) + length;
    }
    void turn(const Spot& s, std::uint64_t cost, ArcId in, int mouth) {
        const NodeId n = m_graph.head(in);
        const bool ford = !m_w.offers.ford_node.empty() && m_w.offers.ford_node[n.index()];
        for (std::uint32_t b = m_graph.arc_begin(n); b < m_graph.arc_end(n); ++b) {
            const ArcId out{b};
            const bool turns_at_mouth = mouth >= 0 && out == m_graph.twin(in) && m_roads.open(out) &&
                                        m_w.offers.mouths[static_cast<std::size_t>(mouth)].turns;
            if (!m_roads.may_follow(in, out) && !turns_at_mouth)
                continue;
            if (mouth >= 0 && !leads(m_w.offers.mouths[static_cast<std::size_t>(mouth)], out))
                continue;
            if (mouth < 0 && s.dry &&
                std::any_of(m_w.offers.mouths.begin(), m_w.offers.mouths.end(),
                            [&](const MouthOffer& m) { return serves(m, in) && leads(m, out); }))
                continue;
            Spot next = s;
            next.arc = b;
            next.at = 0;
            next.stage = !m_roads.ends_only(out) ? 1 : s.stage == 0 ? 0 : 2;
            if (s.stage == 2 && next.stage == 1)
                continue;
            next.dry = s.dry || ford;
            next.fresh = false;
            std::uint64_t before = cost, last = s.fresh ? 0 : m_q.turns(in, out);
            if (mouth >= 0) {
                const ArcId spur = m_w.offers.mouths[static_cast<std::size_t>(mouth)].spur;
                before += s.fresh ? 0 : m_q.turns(in, spur);
                last = m_q.turns(m_graph.twin(spur), out);
            }
            // Where the move ends right behind the turn, nobody turns; unless dry belts have to stop there.
            const auto places = beside(out);
            const bool stop_first = next.dry && !places.empty() && places.front().first == 0;
            if (m_graph.edge_of(out) == m_q.to.edge && offset(m_q.to, out) == 0 &&
                m_graph.arc(out).length_dm > 0 && !stop_first)
                finish(before, s.length);
            const std::uint64_t turned = before + last;
            drive_from_node(next, turned);
        }
    }
    void drive_from_node(Spot s, std::uint64_t cost) {
        s.mouth = -2;  // tells it from a spot at a place at the very beginning
        reach(s, cost);
    }

    const VehicleRoads& m_roads;
    const RoadGraph& m_graph;
    const World& m_w;
    const StopSearchQuestion& m_q;
    std::set<std::pair<Cost, Spot>> m_queue;
    std::map<Spot, std::uint64_t> m_least;
    std::set<Spot> m_started;  // spots that stand at a place
    std::set<std::pair<Spot, std::uint64_t>> m_done_arcs;
    std::uint64_t m_best = unreached, m_best_weight = unreached, m_best_length = 0;
};

inline RoadPoint random_unit_point(const VehicleRoads& roads, TestRandom& random) {
    RoadPoint p;
    p.edge = random_open_edge(roads, random);
    p.offset_dm = unit * random.below(roads.graph().region().edges[p.edge.index()].length_dm / unit + 1);
    return p;
}

/// From somewhere to somewhere, lubricated just now, without a cap.
inline StopSearchQuestion random_question(const World& w, const VehicleRoads& roads, TestRandom& random) {
    StopSearchQuestion q;
    q.from = random_unit_point(roads, random);
    q.to = random_unit_point(roads, random);
    q.primary = w.weights;
    q.prices = w.prices;
    q.interval_dm = interval;
    return q;
}

// The stops of an answer keep the interval, checked as on a trip meter.
inline void check_stops(const RoadGraph& graph, const World& w, const StopSearchQuestion& q,
                        const RouteWithStops& r) {
    std::uint64_t price = 0, meter = q.since_dm, at = 0;
    for (const PlacedStop& s : r.stops) {
        price += w.prices[s.offer];
        const std::uint64_t depth =
            s.offer < w.offers.beside.size() ? 0 : w.offers.mouths[s.offer - w.offers.beside.size()].depth_dm;
        EXPECT_LE(meter + s.route_dm - at + depth, q.interval_dm);
        meter = depth;
        at = s.route_dm;
    }
    EXPECT_LE(meter + r.route.length_dm - at, q.interval_dm);
    if (q.turns.all_free()) {
        EXPECT_EQ(r.route.primary + price, r.total_primary);
    }
    EXPECT_EQ(weight_with_stops(graph, w.offers, q, r.route.pieces, r.stops), r.total_primary);
    std::uint64_t length = 0;
    for (const RoutePiece& p : r.route.pieces)
        length += p.length_dm();
    EXPECT_EQ(length, r.route.length_dm);
}

}  // namespace loamway::test

#endif
