// SPDX-License-Identifier: Apache-2.0
// Turn restrictions from ways to edges.
//
// A restriction names ways; edges are pieces of ways. Where the via node is the end of both ways, one edge of
// each touches it. Where it lies inside a way, two do:
//   no_*:   every combination is closed, as the map cannot mean one of them only (for a restriction whose
//   from
//           and to are the same way: a turn back on the same edge for no_u_turn, else from one piece to the
//           other);
//   only_*: the one combination whose turn fits the name best (only_right_turn: nearest to a right angle to
//   the
//           right ...), as "only" two different ways on is a contradiction.
// no_entry may have several from, no_exit several to: one record each.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <unordered_map>

#include "assembly.h"
#include "node_store.h"

namespace loamway {

namespace {

using EdgeList = std::vector<std::uint32_t>;

struct Turn {
    std::uint32_t from;
    std::uint32_t to;
};

/// Members by role, as far as they have one that counts.
struct Parts {
    std::vector<std::int64_t> from, to, via_ways, via_nodes;
};

/// The value that says what is meant: of restriction, else of restriction:hgv and the like, conditional or
/// not.
std::string_view kind_of(const TagView& tags) {
    if (const auto kind = tags.get("restriction"))
        return *kind;
    for (const Tag& tag : tags.all())
        if (tag.key.starts_with("restriction:"))
            return tag.value;
    return {};
}

bool keeps_restriction_key(std::string_view key) {
    return key == "type" || key == "restriction" || key.starts_with("restriction:") || key == "except" ||
           key == "day_on" || key == "day_off" || key == "hour_on" || key == "hour_off";
}

/// The turn a name asks for, in degrees to the right; nothing when it does not say.
std::optional<double> wanted_turn(std::string_view kind) {
    if (kind.find("u_turn") != std::string_view::npos)
        return 180.0;
    if (kind.find("right") != std::string_view::npos)
        return 90.0;
    if (kind.find("left") != std::string_view::npos)
        return -90.0;
    if (kind.find("straight") != std::string_view::npos)
        return 0.0;
    return std::nullopt;
}

class Resolver {
public:
    explicit Resolver(Assembly& a) : m_a(a), m_ids(a.map.node_ids) { find_member_edges(); }

    void resolve(const RawMap::Relation& relation) {
        const TagView tags = m_a.tags(relation.tags);
        const std::string_view kind = kind_of(tags);
        const bool only = kind.starts_with("only_");
        if (!only && !kind.starts_with("no_"))
            return count("turn restrictions of an unknown kind");
        const Parts parts = parts_of(relation);
        const bool has_via = !parts.via_nodes.empty() || !parts.via_ways.empty();
        if (parts.from.empty() || parts.to.empty() || !has_via)
            return count("turn restrictions without from, via or to");
        if (only && (parts.from.size() > 1 || parts.to.size() > 1))
            return count("turn restrictions with contradicting members");
        m_tag_set = m_a.texts.add_tag_set(tags, keeps_restriction_key);
        std::size_t made = 0;
        for (const std::int64_t from : parts.from)
            for (const std::int64_t to : parts.to)
                made += parts.via_ways.empty() ? via_node(kind, from, to, parts.via_nodes)
                                               : via_ways(kind, from, to, parts.via_ways);
        if (made == 0)
            count("turn restrictions with members that do not meet or are not in the extract");
    }

private:
    void count(std::string_view what) { m_a.counts.add(what); }

    void find_member_edges() {
        for (const RawMap::Relation& r : m_a.map.restrictions)
            for (const RawMap::Member& m : r.members)
                if (m.type == 'w')
                    m_edges_of[m.ref];
        for (std::uint32_t e = 0; e < m_a.pieces.size(); ++e)
            if (const auto at = m_edges_of.find(m_a.out.edge_way[e]); at != m_edges_of.end())
                at->second.push_back(e);
        for (auto& [way, edges] : m_edges_of)
            std::ranges::sort(edges, {}, [&](std::uint32_t e) { return m_a.pieces[e].ref_first; });
    }

    [[nodiscard]] Parts parts_of(const RawMap::Relation& relation) const {
        Parts parts;
        for (const RawMap::Member& m : relation.members) {
            const std::string_view role = m_a.map.strings.get(m.role);
            if (role == "via" && m.type == 'n')
                parts.via_nodes.push_back(m.ref);
            if (m.type != 'w')
                continue;
            if (role == "from")
                parts.from.push_back(m.ref);
            else if (role == "to")
                parts.to.push_back(m.ref);
            else if (role == "via")
                parts.via_ways.push_back(m.ref);
        }
        return parts;
    }

    [[nodiscard]] const EdgeRecord& edge(std::uint32_t e) const { return m_a.out.edges[e]; }
    [[nodiscard]] const EdgeList& edges_of(std::int64_t way) const { return m_edges_of.at(way); }
    [[nodiscard]] EdgeList edges_at(std::int64_t way, std::uint32_t node) const {
        EdgeList result;
        std::ranges::copy_if(edges_of(way), std::back_inserter(result),
                             [&](std::uint32_t e) { return edge(e).tail == node || edge(e).head == node; });
        return result;
    }

    /// Direction of travel at `node`: into it along the edge, or out of it.
    [[nodiscard]] double bearing_at(std::uint32_t e, std::uint32_t node, bool into) const {
        const RoadPiece& p = m_a.pieces[e];
        const std::size_t last = p.ref_first + p.ref_count - 1;
        const bool at_head = edge(e).head == node;
        const GeoPoint here = m_a.ref_point(at_head ? last : p.ref_first);
        const GeoPoint next = m_a.ref_point(at_head ? last - 1 : p.ref_first + 1);
        return into ? bearing_deg(next, here) : bearing_deg(here, next);
    }

    /// How far a turn is from what the name asks for, in degrees.
    [[nodiscard]] double misfit(const Turn& t, std::uint32_t in, std::uint32_t out, double wanted) const {
        const double turn = turn_deg(bearing_at(t.from, in, true), bearing_at(t.to, out, false));
        return std::abs(wanted) > 179.0 ? 180.0 - std::abs(turn) : std::abs(turn - wanted);
    }

    /// Which combinations a restriction means; `in` and `out` are the nodes between from and via, via and to.
    [[nodiscard]] std::vector<Turn> choose(std::string_view kind, std::vector<Turn> turns, std::uint32_t in,
                                           std::uint32_t out) const {
        if (!kind.starts_with("only_") || turns.size() < 2)
            return turns;
        const auto wanted = wanted_turn(kind);
        if (!wanted)
            return {};
        return {
            *std::ranges::min_element(turns, {}, [&](const Turn& t) { return misfit(t, in, out, *wanted); })};
    }

    void add_record(std::string_view kind, const Turn& turn, const EdgeList& via, std::uint32_t node) {
        const auto first = static_cast<std::uint32_t>(m_a.out.restriction_edges.size());
        m_a.out.restriction_edges.push_back(turn.from);
        m_a.out.restriction_edges.insert(m_a.out.restriction_edges.end(), via.begin(), via.end());
        m_a.out.restriction_edges.push_back(turn.to);
        m_a.out.restrictions.push_back({first, static_cast<std::uint32_t>(via.size() + 2), node,
                                        kind.starts_with("only_") ? 1u : 0u, m_tag_set});
    }

    std::size_t via_node(std::string_view kind, std::int64_t from, std::int64_t to,
                         const std::vector<std::int64_t>& vias) {
        const std::uint32_t map_node = m_ids.find(vias.front());
        const std::uint32_t node = map_node == no_index ? no_index : m_a.graph_node[map_node];
        if (node == no_index || vias.size() > 1)
            return 0;
        const bool back = kind.find("u_turn") != std::string_view::npos;
        std::vector<Turn> turns;
        for (const std::uint32_t f : edges_at(from, node))
            for (const std::uint32_t t : edges_at(to, node))
                if (from != to || (f == t) == back)
                    turns.push_back({f, t});
        turns = choose(kind, std::move(turns), node, node);
        for (const Turn& turn : turns)
            add_record(kind, turn, {}, node);
        return turns.size();
    }

    /// The nodes where edges of the way and of the via ways meet, in ascending order.
    [[nodiscard]] std::vector<std::uint32_t> meeting_nodes(std::int64_t way, const EdgeList& via) const {
        std::vector<std::uint32_t> nodes;
        for (const std::uint32_t e : edges_of(way))
            for (const std::uint32_t v : via)
                for (const std::uint32_t n : {edge(e).tail, edge(e).head})
                    if (n == edge(v).tail || n == edge(v).head)
                        nodes.push_back(n);
        std::ranges::sort(nodes);
        nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
        return nodes;
    }

    /// The edges from `in` to `out` along via edges, fewest first; empty when they do not lead there.
    [[nodiscard]] EdgeList path_along(const EdgeList& via, std::uint32_t in, std::uint32_t out) const {
        std::unordered_map<std::uint32_t, std::uint32_t> came_by{{in, no_index}};
        std::vector<std::uint32_t> queue{in};
        for (std::size_t i = 0; i < queue.size() && !came_by.contains(out); ++i)
            for (const std::uint32_t v : via) {
                const EdgeRecord& e = edge(v);
                if (e.tail != queue[i] && e.head != queue[i])
                    continue;
                const std::uint32_t other = e.tail == queue[i] ? e.head : e.tail;
                if (came_by.emplace(other, v).second)
                    queue.push_back(other);
            }
        EdgeList path;
        if (!came_by.contains(out))
            return path;
        for (std::uint32_t n = out; n != in;) {
            const std::uint32_t v = came_by[n];
            path.push_back(v);
            n = edge(v).tail == n ? edge(v).head : edge(v).tail;
        }
        std::ranges::reverse(path);
        return path;
    }

    /// From and to can touch the via ways at more than one node (a dual carriageway with two links): the
    /// longest way along the via ways is the one that uses all of them.
    std::size_t via_ways(std::string_view kind, std::int64_t from, std::int64_t to,
                         const std::vector<std::int64_t>& vias) {
        EdgeList via;
        for (const std::int64_t way : vias) {
            const EdgeList& edges = edges_of(way);
            if (edges.empty())
                return 0;
            via.insert(via.end(), edges.begin(), edges.end());
        }
        EdgeList best;
        std::uint32_t in = no_index;
        std::uint32_t out = no_index;
        const std::vector<std::uint32_t> ends = meeting_nodes(to, via);
        for (const std::uint32_t i : meeting_nodes(from, via))
            for (const std::uint32_t o : ends)
                if (EdgeList path = path_along(via, i, o); path.size() > best.size()) {
                    best = std::move(path);
                    in = i;
                    out = o;
                }
        if (best.empty())
            return 0;
        std::vector<Turn> turns;
        for (const std::uint32_t f : edges_at(from, in))
            for (const std::uint32_t t : edges_at(to, out))
                if (std::ranges::find(best, f) == best.end() && std::ranges::find(best, t) == best.end())
                    turns.push_back({f, t});
        turns = choose(kind, std::move(turns), in, out);
        for (const Turn& turn : turns)
            add_record(kind, turn, best, in);
        return turns.size();
    }

    Assembly& m_a;
    AscendingIds m_ids;
    std::unordered_map<std::int64_t, EdgeList> m_edges_of;
    std::uint32_t m_tag_set = 0;
};

}  // namespace

void resolve_restrictions(Assembly& a) {
    Resolver resolver(a);
    for (const RawMap::Relation& r : a.map.restrictions)
        resolver.resolve(r);
}

}  // namespace loamway
