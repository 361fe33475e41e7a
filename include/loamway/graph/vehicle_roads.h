// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_VEHICLE_ROADS_H
#define LOAMWAY_GRAPH_VEHICLE_ROADS_H

// What one vehicle may do on each arc and at each junction at a given moment. The tag rules run once for
// each distinct tag set and direction, so this costs little more than a pass over the arcs.
// Holds a reference to the graph. Thread-safe to read.

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "loamway/graph/road_graph.h"
#include "loamway/graph/turn_chains.h"
#include "loamway/tags/access.h"
#include "loamway/tags/limits.h"
#include "loamway/tags/structure.h"
#include "loamway/tags/vehicle.h"

namespace loamway {

/// Everything the rules say about one tag set in one direction.
struct RoadReading {
    AccessReading access;
    std::vector<LimitFinding> limits;
    std::optional<Speed> posted;
    std::string highway;
    Passage passage = Passage::allow;  // access and limits together
};

class VehicleRoads {
public:
    VehicleRoads(const RoadGraph& graph, const VehicleView& vehicle, const Moment& moment);

    [[nodiscard]] const RoadGraph& graph() const { return *m_graph; }
    [[nodiscard]] const VehicleView& vehicle() const { return m_vehicle; }

    [[nodiscard]] bool open(ArcId a) const { return (m_arc_bits[a.index()] & bit_open) != 0; }
    /// Open, but only as part of the first or last stretch of a move: by its tags, or because open roads that
    /// can be reached no other way lie behind such a road.
    [[nodiscard]] bool ends_only(ArcId a) const { return (m_arc_bits[a.index()] & bit_ends_only) != 0; }
    /// A barrier or limit at the node stops this vehicle from going through it.
    [[nodiscard]] bool blocked(NodeId n) const { return m_blocked[n.index()]; }
    [[nodiscard]] const RoadReading& reading(ArcId a) const {
        return m_readings[m_graph->edge(a).tag_set][m_graph->arc(a).reversed];
    }
    /// Reading of the barrier or limit at a node; nullopt where nothing stands.
    [[nodiscard]] std::optional<std::pair<Passage, std::string>> node_finding(NodeId n) const;

    /// Whether a vehicle that came along `in` may go on along `out` (out leaves in's head): open, not
    /// banned, not through a blocked node, and no turning round except where there is no other way on.
    [[nodiscard]] bool may_follow(ArcId in, ArcId out) const {
        if (!open(out))
            return false;
        if (m_graph->edge_of(out) == m_graph->edge_of(in) && out == m_graph->twin(in))
            return (m_arc_bits[in.index()] & bit_turn_back) != 0;
        return !blocked(m_graph->head(in)) &&
               ((m_arc_bits[in.index()] & bit_has_ban) == 0 || !banned(in, out));
    }
    [[nodiscard]] bool banned(ArcId in, ArcId out) const;

    /// Connected parts of the open network, for snapping; 0 is the longest.
    [[nodiscard]] std::uint32_t part_of(EdgeId e) const { return m_part_of_edge[e.index()]; }
    static constexpr std::uint32_t no_part = 0xffffffffu;
    [[nodiscard]] Length part_length(std::uint32_t part) const;
    [[nodiscard]] std::size_t part_count() const { return m_part_length_dm.size(); }

    /// Turn restrictions over several roads.
    [[nodiscard]] const TurnChains& turn_chains() const { return m_chains; }

private:
    static constexpr std::uint8_t bit_open = 1, bit_ends_only = 2, bit_has_ban = 4, bit_turn_back = 8;
    void read_tag_sets(const Moment& moment);
    void read_nodes();
    void read_restrictions(const Moment& moment);
    void find_turn_backs();
    template <class Usable>
    [[nodiscard]] std::vector<std::uint32_t> join_edges(Usable&& usable) const;
    void find_parts();
    void close_enclaves();
    void ban_all_but(ArcId in, ArcId out);
    void read_restriction_over_roads(const RestrictionRecord& r, bool only);

    const RoadGraph* m_graph;
    VehicleView m_vehicle;
    std::vector<std::array<RoadReading, 2>> m_readings;  // by tag set, direction
    std::vector<std::uint8_t> m_arc_bits;
    std::vector<bool> m_blocked;
    std::vector<std::uint64_t> m_bans;  // in << 32 | out, sorted
    std::vector<std::uint32_t> m_part_of_edge;
    std::vector<std::uint64_t> m_part_length_dm;
    TurnChains m_chains;
};

}  // namespace loamway

#endif
