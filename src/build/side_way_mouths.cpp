// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <optional>
#include <queue>
#include <unordered_map>

#include "edge_line.h"
#include "loamway/tags/structure.h"
#include "stop_candidates.h"

namespace loamway {

namespace {

constexpr std::uint32_t longest_usable_dm = 1500;  // nobody backs out further than 150 m
constexpr std::uint32_t least_usable_dm = 150;     // shorter than the shortest machine and its 10 m
constexpr std::uint32_t stand_within_dm = 400;     // the first stretch, in whose middle the place is judged
constexpr std::uint32_t drive_through_within_dm = 15000;
constexpr std::size_t most_nodes_searched = 256;

/// What a node's own tags mean for somebody who turns into a side way.
enum class Gate { open, ask, shut };

class MouthFinder {
public:
    MouthFinder(const Assembly& a, RoadFactsTable& facts, std::vector<StandingPlace>& out)
        : m_a(a), m_facts(facts), m_out(out) {}

    void find() {
        for (std::uint32_t node = 0; node < m_a.out.node_lat.size(); ++node)
            if (degree(node) >= 3)
                for (std::uint32_t arc = first(node); arc < first(node + 1); ++arc)
                    if (is_mouth(node, arc))
                        add(node, arc);
    }

private:
    [[nodiscard]] std::uint32_t first(std::uint32_t node) const { return m_a.out.arc_first[node]; }
    [[nodiscard]] std::uint32_t degree(std::uint32_t node) const { return first(node + 1) - first(node); }
    [[nodiscard]] const ArcRecord& arc_at(std::uint32_t arc) const { return m_a.out.arcs[arc]; }
    [[nodiscard]] RoadFacts facts(std::uint32_t edge) { return m_facts.of_edge(edge); }
    [[nodiscard]] bool may_enter(const ArcRecord& arc) {
        const RoadFacts f = facts(arc.edge);
        return (arc.reversed == 0 ? f.forward : f.backward) != Passage::deny;
    }
    [[nodiscard]] bool may_leave(const ArcRecord& arc) {
        const RoadFacts f = facts(arc.edge);
        return (arc.reversed == 0 ? f.backward : f.forward) != Passage::deny;
    }

    [[nodiscard]] Gate gate_at(std::uint32_t node) const {
        const auto& tagged = m_a.out.node_tags;
        const auto at = std::lower_bound(tagged.begin(), tagged.end(), node,
                                         [](const NodeTagRecord& r, std::uint32_t n) { return r.node < n; });
        if (at == tagged.end() || at->node != node)
            return Gate::open;
        const TagView tags = m_a.texts.tag_set(at->tag_set);
        if (is_ford(tags))
            return Gate::shut;  // nobody wades to lubricate
        const BarrierReading::State state = read_barrier(tags, VehicleView()).state;
        if (state == BarrierReading::State::pass)
            return Gate::open;
        return state == BarrierReading::State::pass_check ? Gate::ask : Gate::shut;
    }

    /// A side way branches off where a road of another kind runs past, or where a way of its own kind goes on
    /// on both sides of it while it begins or ends.
    [[nodiscard]] bool is_mouth(std::uint32_t node, std::uint32_t arc) {
        const ArcRecord& in = arc_at(arc);
        const RoadFacts f = facts(in.edge);
        if (!f.side_way || f.busy || !may_enter(in) ||
            m_a.out.edges[in.edge].odds.likeliest() == SurfaceClass::hard)
            return false;
        bool goes_on = false;
        for (std::uint32_t other = first(node); other < first(node + 1); ++other) {
            if (!facts(arc_at(other).edge).side_way)
                return true;
            goes_on = goes_on ||
                      (other != arc && m_a.out.edge_way[arc_at(other).edge] == m_a.out.edge_way[in.edge]);
        }
        return !goes_on;
    }

    struct Way {
        std::uint32_t usable_dm = 0;
        bool ask = false;
    };

    /// How far one can stand into the side way, following it over nodes where it goes on.
    [[nodiscard]] Way follow(std::uint32_t node, std::uint32_t arc) {
        Way way;
        const bool track = facts(arc_at(arc).edge).track;
        for (std::optional<std::uint32_t> next = arc; next; next = going_on(*next, track, node)) {
            const ArcRecord& a = arc_at(*next);
            const RoadFacts f = facts(a.edge);
            if (f.structure)
                break;
            way.ask = way.ask || f.ask;
            way.usable_dm += a.length_dm;
            if (way.usable_dm >= longest_usable_dm)
                break;
            const Gate gate = gate_at(a.head);
            if (gate == Gate::shut)
                break;
            way.ask = way.ask || gate == Gate::ask;
        }
        way.usable_dm = std::min(way.usable_dm, longest_usable_dm);
        return way;
    }

    /// The arc on which the side way goes on beyond `arc`: the only other one, or the one of the same way.
    [[nodiscard]] std::optional<std::uint32_t> going_on(std::uint32_t arc, bool track, std::uint32_t mouth) {
        const ArcRecord& came = arc_at(arc);
        if (came.head == mouth || came.length_dm == 0)
            return std::nullopt;
        std::optional<std::uint32_t> found;
        for (std::uint32_t next = first(came.head); next < first(came.head + 1); ++next) {
            const ArcRecord& a = arc_at(next);
            if (a.edge == came.edge)
                continue;
            const RoadFacts f = facts(a.edge);
            const bool fits = f.side_way && f.track == track && !f.busy && may_enter(a);
            const bool same_way = m_a.out.edge_way[a.edge] == m_a.out.edge_way[came.edge];
            if (fits && (degree(came.head) == 2 || same_way))
                found = next;
        }
        return found;
    }

    /// Whether one comes out to another road, or back to the mouth, by driving on; within 1.5 km.
    [[nodiscard]] bool drives_through(std::uint32_t mouth, std::uint32_t arc) {
        struct Reached {
            std::uint32_t dm, node, edge;
            bool operator>(const Reached& other) const { return dm > other.dm; }
        };
        std::priority_queue<Reached, std::vector<Reached>, std::greater<>> queue;
        std::unordered_map<std::uint32_t, bool> done;
        const auto push = [&](std::uint32_t dm, const ArcRecord& a) {
            if (may_enter(a) && dm + a.length_dm <= drive_through_within_dm)
                queue.push({dm + a.length_dm, a.head, a.edge});
        };
        push(0, arc_at(arc));
        while (!queue.empty() && done.size() < most_nodes_searched) {
            const Reached r = queue.top();
            queue.pop();
            if (r.node == mouth)
                return true;
            if (gate_at(r.node) == Gate::shut || !done.emplace(r.node, true).second)
                continue;
            for (std::uint32_t next = first(r.node); next < first(r.node + 1); ++next) {
                const ArcRecord& a = arc_at(next);
                if (a.edge == r.edge || a.edge == arc_at(arc).edge)
                    continue;
                if (!facts(a.edge).side_way && may_enter(a))
                    return true;
                push(r.dm, a);
            }
        }
        return false;
    }

    [[nodiscard]] bool beside_fast_road(std::uint32_t node) {
        for (std::uint32_t arc = first(node); arc < first(node + 1); ++arc)
            if (facts(arc_at(arc).edge).fast)
                return true;
        return false;
    }

    /// The point `along_dm` into the edge from the side it is entered at.
    [[nodiscard]] GeoPoint point_into(const ArcRecord& arc, std::uint32_t along_dm) const {
        const RoadPiece& piece = m_a.pieces[arc.edge];
        const std::size_t last = piece.ref_first + piece.ref_count - 1;
        double left = along_dm / 10.0;
        for (std::uint32_t i = 1; i < piece.ref_count; ++i) {
            const std::size_t from = arc.reversed == 0 ? piece.ref_first + i - 1 : last - i + 1;
            const std::size_t to = arc.reversed == 0 ? from + 1 : from - 1;
            const double step = distance(m_a.ref_point(from), m_a.ref_point(to)).metres();
            if (step >= left)
                return interpolate(m_a.ref_point(from), m_a.ref_point(to), step > 0.0 ? left / step : 0.0);
            left -= step;
        }
        return m_a.ref_point(arc.reversed == 0 ? last : piece.ref_first);
    }

    void add(std::uint32_t node, std::uint32_t arc) {
        const ArcRecord& in = arc_at(arc);
        const RoadFacts f = facts(in.edge);
        const Way way = follow(node, arc);
        const bool through = drives_through(node, arc);
        const Gate gate = gate_at(node);
        const bool trapped = !through && !may_leave(in);
        StandingPlace c;
        c.kind = StopPlaceKind::side_way;
        c.edge = in.edge;
        c.offset_dm = in.reversed == 0 ? 0 : in.length_dm;
        c.usable_dm = way.usable_dm;
        c.road = {m_a.out.node_lat[node], m_a.out.node_lon[node]};
        c.stand = point_into(in, std::min(way.usable_dm, stand_within_dm) / 2);
        c.osm_id = m_a.out.edge_way[in.edge];
        c.group = m_out.empty() ? 0 : m_out.back().group + 1;
        c.side_road = true;
        c.flags = stop_flag::soft_ground | (through ? 0 : stop_flag::dead_end) |
                  (way.ask || gate == Gate::ask ? stop_flag::ask_permission : 0);
        const double middle = std::min(way.usable_dm, stand_within_dm) / 20.0;
        const EdgeSlope slope(m_a, in.edge);
        const bool steep =
            f.steep ||
            slope.steepest_pct(in.reversed == 0 ? middle : in.length_dm / 10.0 - middle) > steepest_pct;
        const bool too_short = way.usable_dm < least_usable_dm || gate == Gate::shut || trapped;
        c.bars = (beside_fast_road(node) ? stop_bar::fast_road : 0) |
                 (f.structure ? stop_bar::structure : 0) | (steep ? stop_bar::steep : 0) |
                 (too_short ? stop_bar::short_way : 0);
        m_out.push_back(c);
    }

    const Assembly& m_a;
    RoadFactsTable& m_facts;
    std::vector<StandingPlace>& m_out;
};

}  // namespace

void add_side_way_mouths(const Assembly& a, RoadFactsTable& facts, std::vector<StandingPlace>& candidates) {
    MouthFinder(a, facts, candidates).find();
}

}  // namespace loamway
