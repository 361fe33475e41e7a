// SPDX-License-Identifier: Apache-2.0
// Nodes, edges, arcs and shapes: the checks that run over the big arrays.
#include <fmt/format.h>

#include "check.h"
#include "shape.h"

namespace loamway {
namespace {

constexpr std::uint8_t known_edge_flags = edge_flag::known | edge_flag::built_up | edge_flag::bridge |
                                          edge_flag::tunnel | edge_flag::ford | edge_flag::side_way;

bool odds_whole(const EdgeRecord& e) {
    return std::uint32_t{e.odds.hard} + e.odds.gravel + e.odds.earth == probability_steps;
}

bool odds_certain(const EdgeRecord& e) {
    return e.odds.hard == probability_steps || e.odds.gravel == probability_steps ||
           e.odds.earth == probability_steps;
}

std::string edge_text(const RegionView& v, std::size_t i) {
    const EdgeRecord& e = v.edges[i];
    const std::size_t nodes = v.node_count();
    if (e.tail >= nodes || e.head >= nodes)
        return fmt::format("edge {} joins nodes {} and {} of {}", i, e.tail, e.head, nodes);
    if (e.length_dm > max_edge_dm)
        return fmt::format("edge {} is {} dm long", i, e.length_dm);
    if (e.tag_set >= v.tag_set_count())
        return fmt::format("edge {} has tag set {} of {}", i, e.tag_set, v.tag_set_count());
    if (!odds_whole(e) || ((e.flags & edge_flag::known) != 0 && !odds_certain(e)))
        return fmt::format("edge {} has odds {} + {} + {} of {}", i, e.odds.hard, e.odds.gravel, e.odds.earth,
                           probability_steps);
    if ((e.flags & ~known_edge_flags) != 0)
        return fmt::format("edge {} has unknown flags {}", i, e.flags);
    return fmt::format("edge {} has strings {} and {} of {}", i, e.name, e.reason, v.string_first.size() - 1);
}

std::string arc_text(const RegionView& v, std::size_t node, std::size_t i) {
    const ArcRecord& a = v.arcs[i];
    if (a.edge >= v.edge_count())
        return fmt::format("arc {} belongs to edge {} of {}", i, a.edge, v.edge_count());
    const EdgeRecord& e = v.edges[a.edge];
    return fmt::format(
        "arc {} from node {} to node {} ({} dm, reversed {}) does not fit edge {} from node {} to node {} "
        "({} dm)",
        i, node, a.head, a.length_dm, a.reversed, a.edge, e.tail, e.head, e.length_dm);
}

bool arc_fits(const RegionView& v, std::uint32_t node, const ArcRecord& a) {
    if (a.edge >= v.edge_count() || a.reversed > 1)
        return false;
    const EdgeRecord& e = v.edges[a.edge];
    const bool forward = a.reversed == 0;
    return (forward ? e.tail : e.head) == node && (forward ? e.head : e.tail) == a.head &&
           e.length_dm == a.length_dm;
}

}  // namespace

Fault nodes_fault(const RegionView& v) {
    const std::size_t nodes = v.node_count();
    if (v.node_lon.size() != nodes || v.node_osm.size() != nodes || v.component.size() != nodes)
        return fmt::format("{} latitudes, {} longitudes, {} OSM ids and {} components of nodes", nodes,
                           v.node_lon.size(), v.node_osm.size(), v.component.size());
    for (std::size_t i = 0; i < nodes; ++i) {
        if (!on_earth(v.node_lat[i], v.node_lon[i]))
            return fmt::format("node {} lies at {}, {} (1e-7 degree)", i, v.node_lat[i], v.node_lon[i]);
        if (v.component[i] >= nodes)
            return fmt::format("node {} belongs to component {} of at most {}", i, v.component[i], nodes);
    }
    return std::nullopt;
}

Fault edges_fault(const RegionView& v) {
    if (v.edge_way.size() != v.edge_count())
        return fmt::format("{} edges and {} way ids", v.edge_count(), v.edge_way.size());
    const std::size_t nodes = v.node_count();
    const std::size_t strings = v.string_first.size() - 1;
    for (std::size_t i = 0; i < v.edge_count(); ++i) {
        const EdgeRecord& e = v.edges[i];
        if (e.tail >= nodes || e.head >= nodes || e.length_dm > max_edge_dm ||
            e.tag_set >= v.tag_set_count() || e.name >= strings || e.reason >= strings || !odds_whole(e) ||
            ((e.flags & edge_flag::known) != 0 && !odds_certain(e)) || (e.flags & ~known_edge_flags) != 0)
            return edge_text(v, i);
    }
    return std::nullopt;
}

Fault arcs_fault(const RegionView& v) {
    if (Fault fault = ranges_fault("arc_first", v.arc_first, v.node_count(), v.arcs.size()))
        return fault;
    if (v.arcs.size() != 2 * v.edge_count())
        return fmt::format("{} arcs for {} edges", v.arcs.size(), v.edge_count());
    // With twice as many arcs as edges, no direction seen twice means every direction is there.
    std::vector<bool> seen(v.arcs.size());
    for (std::uint32_t n = 0; n < v.node_count(); ++n)
        for (std::uint32_t i = v.arc_first[n]; i < v.arc_first[n + 1]; ++i) {
            const ArcRecord& a = v.arcs[i];
            if (!arc_fits(v, n, a))
                return arc_text(v, n, i);
            auto direction = seen[2 * std::size_t{a.edge} + a.reversed];
            if (direction)
                return fmt::format("arc {} repeats a direction of edge {}", i, a.edge);
            direction = true;
        }
    return std::nullopt;
}

Fault shapes_fault(const RegionView& v) {
    if (v.edges.empty())
        return v.shapes.empty() ? Fault{} : Fault{"shapes without edges"};
    if (v.edges.front().shape_first != 0)
        return fmt::format("the first shape starts at byte {}", v.edges.front().shape_first);
    for (std::size_t i = 0; i < v.edge_count(); ++i) {
        const std::size_t first = v.edges[i].shape_first;
        const std::size_t end = i + 1 < v.edge_count() ? v.edges[i + 1].shape_first : v.shapes.size();
        if (end < first || end > v.shapes.size())
            return fmt::format("the shape of edge {} is bytes {} to {} of {}", i, first, end,
                               v.shapes.size());
        ShapeReader reader(v.shapes.subspan(first, end - first), v.node_point(NodeId(v.edges[i].tail)));
        for (GeoPoint p; reader.next(p);) {
        }
        if (reader.failed())
            return fmt::format("the shape of edge {} does not decode", i);
    }
    return std::nullopt;
}

}  // namespace loamway
