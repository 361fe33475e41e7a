// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_HIERARCHY_H
#define LOAMWAY_SEARCH_HIERARCHY_H

// Fast exact searches between nodes: a customisable contraction hierarchy (Dibbelt, Strasser, Wagner, arXiv
// 1402.0402) over the node order that a region carries.
//
// Three objects, each made from the one before and none changing it:
//   Hierarchy       structure; one a region, for as long as the region is open
//   HierarchyMetric weights of one vehicle and purpose put on it; keeps a reference to the Hierarchy
//   HierarchyQuery  memory of one searching thread; keeps a reference to the Hierarchy, and to the last
//                   metric until the next search
// The first two may be read by any number of threads.
//
// Nodes only: turn restrictions, blocked nodes and U-turns are not seen here. Arcs that must not be used
// (closed, or open only at either end of a move) get an infinite weight from the caller. FastRoute makes
// exact routes of it. Of equally good ways one is chosen by fixed rules: answers do not depend on threads or
// on earlier searches.

#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "loamway/base/ids.h"
#include "loamway/region/region.h"
#include "loamway/search/weight.h"

namespace loamway {

class Hierarchy {
public:
    static constexpr std::uint32_t none = 0xffffffffu;

    /// Regions built from tests' arrays may carry no node order; such a region is searched by RouteFinder
    /// alone.
    [[nodiscard]] static bool stored_in(const RegionView& region) {
        return region.node_rank.size() == region.node_count() && !region.up_first.empty();
    }

    /// Keeps views into the region, which must outlive it. A damaged Error when the stored order is not one
    /// of these roads; a not_found Error when there is none. Takes about 10 ns for each arc of the hierarchy.
    explicit Hierarchy(const RegionView& region);

    [[nodiscard]] const RegionView& region() const { return m_region; }
    [[nodiscard]] std::uint32_t node_count() const { return static_cast<std::uint32_t>(m_node.size()); }
    [[nodiscard]] std::size_t arc_count() const { return m_region.up_head.size(); }
    [[nodiscard]] std::uint32_t rank(NodeId n) const { return m_region.node_rank[n.index()]; }
    [[nodiscard]] NodeId node(std::uint32_t rank) const { return NodeId{m_node[rank]}; }
    /// The next rank up in the elimination tree; `none` at a root.
    [[nodiscard]] std::uint32_t parent(std::uint32_t rank) const { return m_region.tree_parent[rank]; }
    /// Arcs from a rank upwards are numbered up_begin(x) .. up_end(x) - 1, by rising head.
    [[nodiscard]] std::uint32_t up_begin(std::uint32_t rank) const { return m_region.up_first[rank]; }
    [[nodiscard]] std::uint32_t up_end(std::uint32_t rank) const { return m_region.up_first[rank + 1]; }
    [[nodiscard]] std::uint32_t up_head(std::uint32_t arc) const { return m_region.up_head[arc]; }
    /// The arc that both directions of an edge belong to; `none` for a loop.
    [[nodiscard]] std::uint32_t arc_of(EdgeId e) const { return m_arc_of_edge[e.index()]; }

    /// An arc seen from its upper end.
    struct Below {
        std::uint32_t tail;  // rank
        std::uint32_t arc;
    };
    /// By rising tail.
    [[nodiscard]] std::span<const Below> below(std::uint32_t rank) const {
        return std::span(m_below).subspan(m_below_first[rank], m_below_first[rank + 1] - m_below_first[rank]);
    }

    /// A run of ranks, the end not included.
    struct Run {
        std::uint32_t begin;
        std::uint32_t end;
    };
    /// Runs of whole subtrees, independent of each other, of about equal work; and what is left above them,
    /// as runs in which each rank is the parent of the one before. Together they hold every rank once.
    [[nodiscard]] const std::vector<Run>& pieces() const { return m_pieces; }
    [[nodiscard]] const std::vector<Run>& chains() const { return m_chains; }

private:
    void check_tree() const;
    void find_arcs_of_edges();
    void turn_arcs_over();
    void divide_work();

    RegionView m_region;
    std::vector<std::uint32_t> m_node;  // by rank
    std::vector<std::uint32_t> m_arc_of_edge;
    std::vector<std::uint32_t> m_below_first;
    std::vector<Below> m_below;
    std::vector<Run> m_pieces, m_chains;
};

class HierarchyMetric {
public:
    /// One weight an arc of the region, infinite where there is no way. Any number of threads (0: as many as
    /// the machine runs at once) gives the same metric. A limit Error when the best way between two
    /// neighbours in the hierarchy is 214,748 km long or more.
    HierarchyMetric(const Hierarchy& hierarchy, std::vector<RouteWeight> arc_weights, unsigned threads = 1);

    [[nodiscard]] const Hierarchy& hierarchy() const { return *m_hierarchy; }
    /// As given, by arc of the region.
    [[nodiscard]] std::span<const RouteWeight> arc_weights() const { return m_arc_weights; }
    /// Best way from the lower to the upper end of each arc of the hierarchy over ranks below both, and back.
    [[nodiscard]] std::span<const RouteWeight> up() const { return m_up; }
    [[nodiscard]] std::span<const RouteWeight> down() const { return m_down; }
    [[nodiscard]] std::size_t bytes() const {
        return (m_arc_weights.size() + m_up.size() + m_down.size()) * sizeof(RouteWeight);
    }

private:
    const Hierarchy* m_hierarchy;
    std::vector<RouteWeight> m_arc_weights;
    std::vector<RouteWeight> m_up, m_down;
};

/// A node and what it costs to begin there (or to go on from there to the end).
struct WeightedNode {
    NodeId node;
    RouteWeight weight = 0;
};

/// Sums that leave 64 bits count as no way: sums of primary weights must stay below 2^32.
class HierarchyQuery {
public:
    explicit HierarchyQuery(const Hierarchy& hierarchy);

    /// Least weight over all ways from a source to a target, theirs included; infinite when there is none.
    RouteWeight run(const HierarchyMetric& metric, std::span<const WeightedNode> sources,
                    std::span<const WeightedNode> targets);
    /// Of the last run, when there was a way: the first and last node, and the arcs of the region between
    /// them. Unpacked only when asked for.
    [[nodiscard]] NodeId first_node() const;
    [[nodiscard]] NodeId last_node() const;
    [[nodiscard]] std::vector<ArcId> path() const;

    /// Least weight from the sources to every node, or from every node to the targets, into `out` by node.
    void all_from(const HierarchyMetric& metric, std::span<const WeightedNode> sources,
                  std::span<RouteWeight> out);
    void all_to(const HierarchyMetric& metric, std::span<const WeightedNode> targets,
                std::span<RouteWeight> out);
    /// The same for some nodes, into `out` beside them.
    void some_from(const HierarchyMetric& metric, std::span<const WeightedNode> sources,
                   std::span<const NodeId> nodes, std::span<RouteWeight> out);
    void some_to(const HierarchyMetric& metric, std::span<const WeightedNode> targets,
                 std::span<const NodeId> nodes, std::span<RouteWeight> out);

private:
    struct Label {
        RouteWeight weight = infinite_weight;
        std::uint32_t tail = Hierarchy::none;  // rank it came from; none at a source or target
        std::uint32_t arc = Hierarchy::none;
    };
    /// One direction of a search: labels, infinite wherever not listed in `touched`, and the ranks to visit.
    struct Side {
        std::vector<Label> labels;
        std::vector<std::uint32_t> touched;
        std::vector<std::uint32_t> ranks;  // all ancestors, rising; not filled for a single start
        std::uint32_t single = Hierarchy::none;
    };
    class Walk;

    void begin(Side& side, std::span<const WeightedNode> starts);
    void collect_ancestors(std::vector<std::uint32_t>& ranks);
    void mark_ancestors(std::uint32_t rank, std::vector<std::uint32_t>& ranks);
    void relax(Side& side, std::span<const RouteWeight> weights, std::uint32_t rank, RouteWeight bound) const;
    void climb(std::span<const RouteWeight> weights, std::span<const WeightedNode> starts);
    void descend(std::span<const RouteWeight> weights, std::uint32_t rank);
    void sweep_all(std::span<const RouteWeight> climbing, std::span<const RouteWeight> descending,
                   std::span<const WeightedNode> starts, std::span<RouteWeight> out);
    void sweep_some(std::span<const RouteWeight> climbing, std::span<const RouteWeight> descending,
                    std::span<const WeightedNode> starts, std::span<const NodeId> nodes,
                    std::span<RouteWeight> out);

    const Hierarchy* m_hierarchy;
    const HierarchyMetric* m_metric = nullptr;
    Side m_forward, m_backward;
    std::uint32_t m_meeting = Hierarchy::none;
    std::vector<RouteWeight> m_sweep;  // by rank; infinite between searches
    std::vector<std::uint32_t> m_up_ranks, m_down_ranks;
    std::vector<std::uint32_t> m_mark;  // by rank: number of the collection that saw it
    std::uint32_t m_collection = 0;
};

/// The arcs of the region that one arc of the hierarchy stands for, travelled from rank `from` to rank `to`,
/// are added to `path`. The way must be finite.
void unpack_arc(const HierarchyMetric& metric, std::uint32_t from, std::uint32_t to, std::uint32_t arc,
                std::vector<ArcId>& path);

}  // namespace loamway

#endif
