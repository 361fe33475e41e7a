// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/vehicle_roads.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace loamway {

namespace {

std::string_view to_look_at(BarrierReading::State state) {
    using State = BarrierReading::State;
    switch (state) {
        case State::pass:
        case State::pass_check:
            return "ask whether this vehicle may pass";
        case State::check:
            return "look whether this vehicle gets through";
        case State::check_height:
            return "look how high it is";
        case State::check_weight:
            return "look what mass it takes";
        case State::block_check:
        case State::block:
            break;
    }
    return "closed unless somebody opens it";
}

RoadReading read_road(const TagView& tags, const VehicleView& vehicle, Direction direction,
                      const Moment& moment) {
    RoadReading r;
    r.access = read_access(tags, vehicle, direction, moment);
    r.limits = read_limits(tags, vehicle, direction, moment);
    r.posted = posted_speed(tags, direction, vehicle, moment);
    r.highway = tags.get("highway").value_or("");
    r.passage = r.access.passage;
    for (const LimitFinding& f : r.limits)
        r.passage = worse(r.passage, f.passage);
    // A barrier can also be mapped on the way itself.
    r.passage = worse(r.passage, read_barrier(tags, vehicle).passage());
    return r;
}

std::uint64_t pair_key(ArcId in, ArcId out) {
    return (std::uint64_t{in.value()} << 32) | out.value();
}

class UnionFind {
public:
    explicit UnionFind(std::size_t n) : m_parent(n) { std::iota(m_parent.begin(), m_parent.end(), 0u); }
    std::uint32_t find(std::uint32_t x) {
        while (m_parent[x] != x) {
            m_parent[x] = m_parent[m_parent[x]];
            x = m_parent[x];
        }
        return x;
    }
    void unite(std::uint32_t a, std::uint32_t b) {
        a = find(a);
        b = find(b);
        if (a != b)
            m_parent[std::max(a, b)] = std::min(a, b);
    }

private:
    std::vector<std::uint32_t> m_parent;
};

}  // namespace

VehicleRoads::VehicleRoads(const RoadGraph& graph, const VehicleView& vehicle, const Moment& moment)
    : m_graph(&graph), m_vehicle(vehicle), m_blocked(graph.node_count(), false) {
    read_tag_sets(moment);
    read_nodes();
    read_restrictions(moment);
    find_turn_backs();
    find_parts();
    close_enclaves();
}

void VehicleRoads::read_tag_sets(const Moment& moment) {
    const RegionView& region = m_graph->region();
    std::vector<bool> used(region.tag_set_count(), false);
    for (const EdgeRecord& e : region.edges)
        used[e.tag_set] = true;
    m_readings.resize(region.tag_set_count());
    for (std::size_t s = 0; s < used.size(); ++s) {
        if (!used[s])
            continue;
        const TagView tags = m_graph->tags(TagSetId{s});
        m_readings[s][0] = read_road(tags, m_vehicle, Direction::forward, moment);
        m_readings[s][1] = read_road(tags, m_vehicle, Direction::backward, moment);
    }
    m_arc_bits.resize(region.arcs.size());
    for (std::size_t a = 0; a < m_arc_bits.size(); ++a) {
        const RoadReading& r = reading(ArcId{a});
        if (r.passage == Passage::deny)
            continue;
        m_arc_bits[a] = static_cast<std::uint8_t>(bit_open | (r.access.ends_only ? bit_ends_only : 0));
    }
}

void VehicleRoads::read_nodes() {
    for (const NodeTagRecord& r : m_graph->region().node_tags) {
        const auto finding = node_finding(NodeId{r.node});
        m_blocked[r.node] = finding && finding->first == Passage::deny;
    }
}

std::optional<std::pair<Passage, std::string>> VehicleRoads::node_finding(NodeId n) const {
    const TagSetId set = m_graph->node_tag_set(n);
    if (set.is_none())
        return std::nullopt;
    const TagView tags = m_graph->tags(set);
    Passage passage = Passage::allow;
    std::string text;
    const auto add = [&](Passage p, std::string_view what) {
        passage = worse(passage, p);
        if (p != Passage::allow)
            text += fmt::format("{}{}", text.empty() ? "" : "; ", what);
    };
    if (const auto barrier = tags.get("barrier")) {
        const BarrierReading b = read_barrier(tags, m_vehicle);
        add(b.passage(), fmt::format("{}: {}", *barrier, to_look_at(b.state)));
    }
    for (const LimitFinding& f : read_limits(tags, m_vehicle, Direction::forward, {}))
        add(f.passage, f.text);
    if (passage == Passage::allow)
        return std::nullopt;
    return std::pair{passage, text};
}

void VehicleRoads::ban_all_but(ArcId in, ArcId out) {
    const NodeId via = m_graph->head(in);
    for (std::uint32_t a = m_graph->arc_begin(via); a < m_graph->arc_end(via); ++a)
        if (ArcId{a} != out)
            m_bans.push_back(pair_key(in, ArcId{a}));
}

void VehicleRoads::read_restrictions(const Moment& moment) {
    const RegionView& region = m_graph->region();
    const auto arcs_towards = [&](EdgeId e, NodeId n) {
        std::vector<ArcId> arcs;
        for (const bool reversed : {false, true})
            if (const ArcId a = m_graph->arc_of(e, reversed); m_graph->head(a) == n)
                arcs.push_back(a);
        return arcs;
    };
    for (const RestrictionRecord& r : region.restrictions) {
        const RestrictionReading reading =
            read_restriction(m_graph->tags(TagSetId{r.tag_set}), m_vehicle, moment);
        if (!reading.applies)
            continue;
        if (r.edge_count != 2) {
            read_restriction_over_roads(r, reading.only);
            continue;
        }
        const EdgeId from{region.restriction_edges[r.edge_first]};
        const EdgeId to{region.restriction_edges[r.edge_first + 1]};
        const NodeId via{r.via_node};
        for (const ArcId in : arcs_towards(from, via))
            for (const ArcId out_twin : arcs_towards(to, via)) {
                const ArcId out = m_graph->twin(out_twin);
                if (reading.only)
                    ban_all_but(in, out);
                else
                    m_bans.push_back(pair_key(in, out));
            }
    }
    m_chains.close();
    std::sort(m_bans.begin(), m_bans.end());
    m_bans.erase(std::unique(m_bans.begin(), m_bans.end()), m_bans.end());
    for (const std::uint64_t key : m_bans)
        m_arc_bits[key >> 32] |= bit_has_ban;
}

// The roads of a restriction join one another; where one begins and ends at the same place either direction
// counts.
void VehicleRoads::read_restriction_over_roads(const RestrictionRecord& r, bool only) {
    const auto edges = m_graph->region().restriction_edges.subspan(r.edge_first, r.edge_count);
    std::vector<std::vector<ArcId>> chains{{}};
    for (std::size_t i = 0; i < edges.size(); ++i) {
        std::vector<std::vector<ArcId>> longer;
        for (const std::vector<ArcId>& chain : chains)
            for (const bool reversed : {false, true}) {
                const ArcId a = m_graph->arc_of(EdgeId{edges[i]}, reversed);
                const bool joins = i == 0 ? m_graph->head(a) == NodeId{r.via_node}
                                          : m_graph->tail(a) == m_graph->head(chain.back());
                if (!joins)
                    continue;
                longer.push_back(chain);
                longer.back().push_back(a);
            }
        chains = std::move(longer);
    }
    for (std::vector<ArcId>& chain : chains) {
        if (!only) {
            m_chains.forbid(chain);
            continue;
        }
        const ArcId wanted = chain.back();
        const NodeId last = m_graph->tail(wanted);
        for (std::uint32_t a = m_graph->arc_begin(last); a < m_graph->arc_end(last); ++a)
            if (ArcId{a} != wanted) {
                chain.back() = ArcId{a};
                m_chains.forbid(chain);
            }
    }
}

bool VehicleRoads::banned(ArcId in, ArcId out) const {
    return (m_arc_bits[in.index()] & bit_has_ban) != 0 &&
           std::binary_search(m_bans.begin(), m_bans.end(), pair_key(in, out));
}

// Turning round is left to the places where nothing else is possible: the end of a road.
void VehicleRoads::find_turn_backs() {
    for (std::size_t i = 0; i < m_arc_bits.size(); ++i) {
        const ArcId in{i};
        if (!open(in))
            continue;
        const NodeId via = m_graph->head(in);
        bool way_on = false;
        if (!blocked(via))
            for (std::uint32_t a = m_graph->arc_begin(via); a < m_graph->arc_end(via) && !way_on; ++a)
                way_on = ArcId{a} != m_graph->twin(in) && open(ArcId{a}) && !banned(in, ArcId{a});
        if (!way_on)
            m_arc_bits[i] |= bit_turn_back;
    }
}

// Edges that meet at a node anybody may pass belong together. Edges are joined, not nodes: a blocked node
// separates the roads that end at it.
template <class Usable>
std::vector<std::uint32_t> VehicleRoads::join_edges(Usable&& usable) const {
    UnionFind sets(m_graph->region().edge_count());
    for (std::size_t n = 0; n < m_graph->node_count(); ++n) {
        if (blocked(NodeId{n}))
            continue;
        std::optional<EdgeId> first;
        for (std::uint32_t a = m_graph->arc_begin(NodeId{n}); a < m_graph->arc_end(NodeId{n}); ++a) {
            const EdgeId e = m_graph->edge_of(ArcId{a});
            if (!usable(e))
                continue;
            if (first)
                sets.unite(first->value(), e.value());
            else
                first = e;
        }
    }
    std::vector<std::uint32_t> root(m_graph->region().edge_count());
    for (std::uint32_t e = 0; e < root.size(); ++e)
        root[e] = sets.find(e);
    return root;
}

void VehicleRoads::find_parts() {
    const RegionView& region = m_graph->region();
    const auto usable = [&](EdgeId e) {
        return open(m_graph->arc_of(e, false)) || open(m_graph->arc_of(e, true));
    };
    const std::vector<std::uint32_t> root = join_edges(usable);
    std::vector<std::uint64_t> length(region.edge_count(), 0);
    for (std::size_t e = 0; e < region.edge_count(); ++e)
        if (usable(EdgeId{e}))
            length[root[e]] += region.edges[e].length_dm + 1u;
    std::vector<std::uint32_t> roots;
    for (std::uint32_t e = 0; e < length.size(); ++e)
        if (length[e] > 0)
            roots.push_back(e);
    std::stable_sort(roots.begin(), roots.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return length[a] > length[b]; });
    std::vector<std::uint32_t> number(region.edge_count(), no_part);
    for (const std::uint32_t r : roots) {
        number[r] = static_cast<std::uint32_t>(m_part_length_dm.size());
        m_part_length_dm.push_back(length[r]);
    }
    m_part_of_edge.assign(region.edge_count(), no_part);
    for (std::size_t e = 0; e < region.edge_count(); ++e)
        if (usable(EdgeId{e}))
            m_part_of_edge[e] = number[root[e]];
}

// Open roads that can be reached only over private ground (the lanes of a yard behind a private drive) belong
// to that ground: in each connected part the longest network of open roads is the public one, and the
// others are, like what encloses them, only for either end of a move.
void VehicleRoads::close_enclaves() {
    const RegionView& region = m_graph->region();
    const auto free = [&](EdgeId e) {
        const auto arc_free = [&](ArcId a) { return open(a) && !ends_only(a); };
        return arc_free(m_graph->arc_of(e, false)) || arc_free(m_graph->arc_of(e, true));
    };
    const std::vector<std::uint32_t> root = join_edges(free);
    std::vector<std::uint64_t> length(region.edge_count(), 0);
    for (std::size_t e = 0; e < region.edge_count(); ++e)
        if (free(EdgeId{e}))
            length[root[e]] += region.edges[e].length_dm + 1u;
    std::vector<std::uint32_t> public_root(part_count(), no_part);
    for (std::uint32_t e = 0; e < length.size(); ++e) {
        if (length[e] == 0)
            continue;
        std::uint32_t& best = public_root[m_part_of_edge[e]];
        if (best == no_part || length[e] > length[best])
            best = e;
    }
    for (std::size_t e = 0; e < region.edge_count(); ++e)
        if (free(EdgeId{e}) && root[e] != public_root[m_part_of_edge[e]])
            for (const bool reversed : {false, true})
                m_arc_bits[m_graph->arc_of(EdgeId{e}, reversed).index()] |= bit_ends_only;
}

Length VehicleRoads::part_length(std::uint32_t part) const {
    return Length::from_decimetres(static_cast<std::int64_t>(m_part_length_dm[part]));
}

}  // namespace loamway
