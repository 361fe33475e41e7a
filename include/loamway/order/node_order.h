// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_ORDER_NODE_ORDER_H
#define LOAMWAY_ORDER_NODE_ORDER_H

// The node hierarchy of a road network, without any weights: an order of the nodes by nested dissection
// and the graph that is left when nodes are taken out in this order and their later neighbours are joined.
// Any weights can be put on it afterwards (customisable contraction hierarchies: Dibbelt, Strasser, Wagner,
// arXiv 1402.0402). Pure functions of plain arrays; the same graph always gives the same order.
//
// Ordering uses the C library's random numbers with a fixed seed. Calls wait for each other; a program that
// draws from std::rand() at the same time disturbs the order (not its correctness) and is disturbed.

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

namespace loamway {

/// An undirected graph without loops and parallel edges: node n's neighbours are head[first[n]] up to before
/// head[first[n + 1]], ascending, and each of them has n among its own.
struct PlainGraph {
    std::vector<std::uint32_t> first;  // node count + 1
    std::vector<std::uint32_t> head;

    [[nodiscard]] std::uint32_t node_count() const { return static_cast<std::uint32_t>(first.size() - 1); }
    [[nodiscard]] std::span<const std::uint32_t> neighbours(std::uint32_t n) const {
        return std::span(head).subspan(first[n], first[n + 1] - first[n]);
    }
};

/// From arcs in any direction, repeated or not, loops included. `first` has one entry more than there are
/// nodes, rises from 0 to the length of `head`, and every head is a node.
[[nodiscard]] PlainGraph plain_graph(std::span<const std::uint32_t> first,
                                     std::span<const std::uint32_t> head);

/// Position of each node in an order by nested dissection: separators behind what they separate. Graphs with
/// more than 2^31 - 1 nodes or neighbours give a limit Error.
[[nodiscard]] std::vector<std::uint32_t> nested_dissection(const PlainGraph& graph);

/// The hierarchy in rank space. Rank x's arcs upwards lead to up_head[up_first[x]] up to before
/// up_head[up_first[x + 1]], ascending and all above x. The first of them is x's parent in the elimination
/// tree; all of them are ancestors, and all but the first are also up-heads of the parent. Ranks follow the
/// tree in post-order, each node's largest subtree last: a subtree is a run of ranks that ends at its root.
struct NodeHierarchy {
    std::vector<std::uint32_t> rank;      // of each node
    std::vector<std::uint32_t> up_first;  // node count + 1
    std::vector<std::uint32_t> up_head;

    static constexpr std::uint32_t no_parent = std::numeric_limits<std::uint32_t>::max();
    [[nodiscard]] std::uint32_t parent(std::uint32_t x) const {
        return up_first[x] == up_first[x + 1] ? no_parent : up_head[up_first[x]];
    }
};

/// Takes the nodes out in the given order (a permutation). The ranks that come out differ from `order` only
/// by being in post-order, which joins the same nodes. More than 2^32 - 2 arcs give a limit Error.
[[nodiscard]] NodeHierarchy eliminate(const PlainGraph& graph, std::span<const std::uint32_t> order);

/// All three steps.
[[nodiscard]] NodeHierarchy order_nodes(std::span<const std::uint32_t> first,
                                        std::span<const std::uint32_t> head);

}  // namespace loamway

#endif
