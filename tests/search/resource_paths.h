// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SEARCH_RESOURCE_PATHS_H
#define LOAMWAY_TESTS_SEARCH_RESOURCE_PATHS_H

// Questions about routes with stops, and about fronts, written down as a graph with resources and answered by
// Boost.Graph's r_c_shortest_paths: no bounds, no order of its own, nothing of the program's searches. The
// graph is made for each question from the rules, as far as the cap on the length reaches.

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/r_c_shortest_paths.hpp>
#include <map>
#include <optional>
#include <queue>
#include <tuple>
#include <vector>

#include "loamway/search/front.h"
#include "loamway/search/stop_search.h"

namespace loamway::test {

class ResourcePaths {
public:
    ResourcePaths(const VehicleRoads& roads, const StopOffers& offers, const StopSearchQuestion& q)
        : m_roads(roads), m_graph(roads.graph()), m_offers(offers), m_q(q) {
        m_lines = Lines(2);
        for (const bool reversed : {false, true}) {
            const ArcId a = m_graph.arc_of(q.from.edge, reversed);
            if (m_roads.open(a))
                drive(source, 0,
                      {Kind::driven, a.value(), roads.ends_only(a) ? 0 : 1, chains().step(0, a).value()},
                      offset(q.from, a), true, Line());
        }
        while (!m_open.empty()) {
            const auto [length, vertex] = m_open.top();
            m_open.pop();
            if (length == m_least[vertex])
                expand(vertex, length);
        }
    }

    /// Of the routes with stops, every trade-off between weight and length.
    [[nodiscard]] std::vector<FrontSums> best() const {
        std::vector<std::vector<boost::graph_traits<Lines>::edge_descriptor>> paths;
        std::vector<Resources> ends;
        Resources start;
        start.since = m_q.since_dm;
        boost::r_c_shortest_paths(
            m_lines, boost::get(boost::vertex_index, m_lines), boost::get(&Line::number, m_lines), source,
            sink, paths, ends, start, Extend{m_q},
            [](const Resources& a, const Resources& b) { return a.no_worse(b); },
            boost::default_r_c_shortest_paths_allocator(), boost::default_r_c_shortest_paths_visitor());
        std::vector<FrontSums> all;
        for (const Resources& r : ends)
            all.push_back({r.weight, r.length});
        std::sort(all.begin(), all.end(), [](const FrontSums& a, const FrontSums& b) {
            return std::pair(a.primary, a.length_dm) < std::pair(b.primary, b.length_dm);
        });
        std::vector<FrontSums> front;
        for (const FrontSums& s : all)
            if (front.empty() || s.length_dm < front.back().length_dm)
                front.push_back(s);
        return front;
    }

private:
    struct Line {
        std::size_t number = 0;
        std::uint64_t weight = 0, length = 0;
        std::uint64_t depth = 0;  // of a mouth, driven before lubricating and after
        bool stop = false;
        bool ford_before = false, ford_at_end = false;
        bool passes_mouth = false, passes_beside = false;  // not for dry belts
    };
    struct Resources {
        std::uint64_t weight = 0, length = 0, since = 0;
        bool dry = false;
        [[nodiscard]] auto key() const { return std::tuple(weight, length, since, dry); }
        [[nodiscard]] bool no_worse(const Resources& o) const {
            return weight <= o.weight && length <= o.length && since <= o.since && dry <= o.dry;
        }
        friend bool operator==(const Resources& a, const Resources& b) { return a.key() == b.key(); }
        friend bool operator<(const Resources& a, const Resources& b) { return a.key() < b.key(); }
    };
    using Lines = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property, Line>;
    struct Extend {
        const StopSearchQuestion& q;
        bool operator()(const Lines& g, Resources& r, const Resources& before,
                        boost::graph_traits<Lines>::edge_descriptor e) const {
            const Line& l = g[e];
            r = before;
            if (r.dry && l.passes_mouth)
                return false;
            r.dry = r.dry || l.ford_before;
            if (r.dry && l.passes_beside)
                return false;
            r.weight += l.weight;
            r.length += l.length;
            r.since += l.length + l.depth;
            if (r.since > q.interval_dm || r.length > q.cap_dm)
                return false;
            if (l.stop) {
                r.since = l.depth;
                r.dry = false;
            }
            r.dry = r.dry || l.ford_at_end;
            return true;
        }
    };

    enum class Kind { driven, beside, beside_with_room, mouth };
    // Driven along an arc: to its end, to a place beside it, or to its end and into a mouth there.
    struct Spot {
        Kind kind;
        std::uint32_t arc;
        int stage;  // private ground at the start, open roads, private ground at the end
        TurnChains::Memory memory;
        std::uint32_t offer = 0;
        friend auto operator<=>(const Spot&, const Spot&) = default;
    };
    static constexpr std::size_t source = 0, sink = 1;

    [[nodiscard]] const TurnChains& chains() const { return m_roads.turn_chains(); }
    [[nodiscard]] std::uint32_t offset(const RoadPoint& p, ArcId a) const {
        return m_graph.arc(a).reversed != 0 ? m_graph.arc(a).length_dm - p.offset_dm : p.offset_dm;
    }
    [[nodiscard]] std::uint64_t part(ArcId a, std::uint32_t from, std::uint32_t to) const {
        const std::uint64_t length = m_graph.arc(a).length_dm, w = m_q.primary[a.index()];
        return length == 0 ? w : w * to / length - w * from / length;
    }
    [[nodiscard]] bool ford(NodeId n) const {
        return !m_offers.ford_node.empty() && m_offers.ford_node[n.index()];
    }
    [[nodiscard]] bool ford(ArcId a) const {
        return !m_offers.ford_edge.empty() && m_offers.ford_edge[m_graph.edge_of(a).index()];
    }
    [[nodiscard]] bool serves(const MouthOffer& m, ArcId in) const {
        return m_graph.tail(m.spur) == m_graph.head(in) && m_graph.edge_of(m.spur) != m_graph.edge_of(in) &&
               m_roads.may_follow(in, m.spur);
    }
    [[nodiscard]] bool leads(const MouthOffer& m, ArcId out) const {
        return m_graph.edge_of(m.spur) != m_graph.edge_of(out) && !m_roads.banned(m_graph.twin(m.spur), out);
    }

    void add(std::size_t from, std::uint64_t so_far, const Spot& to, Line line) {
        const auto [known, added] = m_number.try_emplace(to, boost::num_vertices(m_lines));
        if (added) {
            boost::add_vertex(m_lines);
            m_spots.emplace(known->second, to);
        }
        line.number = m_count++;
        boost::add_edge(from, known->second, line, m_lines);
        const std::uint64_t length = so_far + line.length;
        const auto [least, first] = m_least.try_emplace(known->second, length);
        if (length <= m_q.cap_dm && (first || length < least->second)) {
            least->second = length;
            m_open.emplace(length, known->second);
        }
    }

    // Lines along an arc from a position; `line` says what is true of all of them.
    void drive(std::size_t from, std::uint64_t so_far, Spot to, std::uint32_t at, bool places_here,
               const Line& line) {
        const ArcId a{to.arc};
        const std::uint32_t length = m_graph.arc(a).length_dm;
        std::vector<std::pair<std::uint32_t, std::uint32_t>> places;
        for (std::uint32_t o = 0; o < m_offers.beside.size(); ++o)
            if (m_offers.beside[o].edge == m_graph.edge_of(a)) {
                const std::uint32_t along = m_offers.beside[o].offset_dm;
                const std::uint32_t position = m_graph.arc(a).reversed != 0 ? length - along : along;
                if (position > at || (places_here && position == at))
                    places.emplace_back(position, o);
            }
        std::sort(places.begin(), places.end());
        const auto stretch = [&](std::uint32_t end) {
            Line l = line;
            l.weight += part(a, at, end);
            l.length = end - at;
            return l;
        };
        for (const auto& [position, o] : places) {
            Line l = stretch(position);
            l.weight += m_q.prices[o];
            l.stop = true;
            l.passes_beside = places.front().first < position;
            Spot stand = to;
            stand.kind = m_offers.beside[o].turns && position > at ? Kind::beside_with_room : Kind::beside;
            stand.offer = o;
            add(from, so_far, stand, l);
        }
        if (m_graph.edge_of(a) == m_q.to.edge && offset(m_q.to, a) >= at) {
            Line l = stretch(offset(m_q.to, a));
            l.passes_beside = !places.empty() && places.front().first <= offset(m_q.to, a);
            l.number = m_count++;
            boost::add_edge(from, sink, l, m_lines);
        }
        Line l = stretch(length);
        l.passes_beside = !places.empty();
        l.ford_at_end = ford(a);
        add(from, so_far, to, l);
    }

    [[nodiscard]] std::optional<Spot> onto(const Spot& s, ArcId out, bool forgets) const {
        Spot next{Kind::driven, out.value(), !m_roads.ends_only(out) ? 1 : s.stage == 0 ? 0 : 2, 0};
        if (!m_roads.open(out) || (s.stage == 2 && next.stage == 1))
            return std::nullopt;
        const auto memory = chains().step(forgets ? TurnChains::nothing : s.memory, out);
        if (!memory)
            return std::nullopt;
        next.memory = *memory;
        return next;
    }

    void expand(std::size_t vertex, std::uint64_t so_far) {
        const Spot s = m_spots.at(vertex);
        const ArcId in{s.arc};
        if (s.kind == Kind::beside || s.kind == Kind::beside_with_room) {
            const std::uint32_t length = m_graph.arc(in).length_dm,
                                along = m_offers.beside[s.offer].offset_dm;
            const std::uint32_t at = m_graph.arc(in).reversed != 0 ? length - along : along;
            Spot on = s;
            on.kind = Kind::driven;
            on.offer = 0;
            drive(vertex, so_far, on, at, false, Line());
            if (s.kind == Kind::beside_with_room)
                if (const auto back = onto(s, m_graph.twin(in), true))
                    drive(vertex, so_far, *back, length - at, false, Line());
            return;
        }
        const NodeId n = m_graph.head(in);
        for (std::uint32_t i = m_graph.arc_begin(n); i < m_graph.arc_end(n); ++i) {
            const ArcId out{i};
            Line line;
            line.ford_before = ford(n);
            if (s.kind == Kind::mouth) {
                const MouthOffer& m = m_offers.mouths[s.offer];
                if (!leads(m, out))
                    continue;
                if (out == m_graph.twin(in) && m.turns)
                    if (const auto back = onto(s, out, true))
                        drive(vertex, so_far, *back, 0, true, line);
            } else {
                for (const MouthOffer& m : m_offers.mouths)
                    line.passes_mouth = line.passes_mouth || (serves(m, in) && leads(m, out));
            }
            if (m_roads.may_follow(in, out))
                if (const auto next = onto(s, out, false))
                    drive(vertex, so_far, *next, 0, true, line);
        }
        if (s.kind != Kind::driven)
            return;
        for (std::uint32_t i = 0; i < m_offers.mouths.size(); ++i)
            if (serves(m_offers.mouths[i], in)) {
                Line line;
                line.weight = m_q.prices[m_offers.beside.size() + i];
                line.depth = m_offers.mouths[i].depth_dm;
                line.stop = true;
                Spot stand = s;
                stand.kind = Kind::mouth;
                stand.offer = i;
                add(vertex, so_far, stand, line);
            }
    }

    const VehicleRoads& m_roads;
    const RoadGraph& m_graph;
    const StopOffers& m_offers;
    const StopSearchQuestion& m_q;
    Lines m_lines;
    std::size_t m_count = 0;
    std::map<Spot, std::size_t> m_number;
    std::map<std::size_t, Spot> m_spots;
    std::map<std::size_t, std::uint64_t> m_least;  // length to a vertex at least
    using Open = std::pair<std::uint64_t, std::size_t>;
    std::priority_queue<Open, std::vector<Open>, std::greater<>> m_open;
};

}  // namespace loamway::test

#endif
