// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <iterator>

#include "loamway/base/error.h"
#include "loamway/order/node_order.h"

namespace loamway {

namespace {

constexpr std::uint32_t none = NodeHierarchy::no_parent;

std::vector<std::uint32_t> inverse(std::span<const std::uint32_t> order) {
    std::vector<std::uint32_t> node(order.size(), none);
    for (std::uint32_t n = 0; n < order.size(); ++n) {
        if (order[n] >= order.size() || node[order[n]] != none)
            throw Error(ErrorKind::internal, "the order of the nodes is no permutation");
        node[order[n]] = n;
    }
    return node;
}

/// Parents in the elimination tree, by position in the order: Liu's algorithm, near-linear, without making
/// the joined graph. `root` shortens the way to the root of the tree built so far.
std::vector<std::uint32_t> tree_parents(const PlainGraph& graph, std::span<const std::uint32_t> order,
                                        std::span<const std::uint32_t> node) {
    std::vector<std::uint32_t> parent(order.size(), none), root(order.size(), none);
    for (std::uint32_t x = 0; x < order.size(); ++x)
        for (const std::uint32_t neighbour : graph.neighbours(node[x])) {
            std::uint32_t below = order[neighbour];
            if (below > x)
                continue;
            while (root[below] != none && root[below] != x) {
                const std::uint32_t up = root[below];
                root[below] = x;
                below = up;
            }
            if (root[below] == none) {
                root[below] = x;
                parent[below] = x;
            }
        }
    return parent;
}

/// New position of each old one: children before parents, whole subtrees together, the largest last.
std::vector<std::uint32_t> post_order(std::span<const std::uint32_t> parent) {
    const auto count = static_cast<std::uint32_t>(parent.size());
    std::vector<std::uint32_t> size(count, 1), largest(count, none), position(count), next(count);
    for (std::uint32_t x = 0; x < count; ++x) {
        const std::uint32_t up = parent[x];
        if (up == none)
            continue;
        size[up] += size[x];
        if (largest[up] == none || size[x] > size[largest[up]])
            largest[up] = x;
    }
    // Parents have higher numbers, so each finds its own place before its children ask for theirs. `next` is
    // one more than the last place still free below a node.
    std::uint32_t free_roots = count;
    for (std::uint32_t x = count; x-- > 0;) {
        const std::uint32_t up = parent[x];
        std::uint32_t& end = up == none ? free_roots : next[up];
        if (up != none && largest[up] == x) {
            position[x] = position[up] - 1;
        } else {
            position[x] = end - 1;
            end -= size[x];
        }
        next[x] = position[x] - (largest[x] == none ? 0 : size[largest[x]]);
    }
    return position;
}

/// Later neighbours of each rank in the joined graph: its own and those of its children in the tree.
class UpRows {
public:
    explicit UpRows(NodeHierarchy& out) : m_out(out), m_child(out.rank.size(), none), m_sibling(m_child) {}

    void make(const PlainGraph& graph, std::span<const std::uint32_t> node) {
        m_out.up_first.assign(1, 0);
        m_out.up_first.reserve(node.size() + 1);
        for (std::uint32_t x = 0; x < node.size(); ++x) {
            own_neighbours(graph, node[x], x);
            for (std::uint32_t c = m_child[x]; c != none; c = m_sibling[c])
                join_child(c);
            append(x);
        }
    }

private:
    void own_neighbours(const PlainGraph& graph, std::uint32_t node, std::uint32_t x) {
        m_row.clear();
        for (const std::uint32_t neighbour : graph.neighbours(node))
            if (m_out.rank[neighbour] > x)
                m_row.push_back(m_out.rank[neighbour]);
        std::sort(m_row.begin(), m_row.end());
    }
    void join_child(std::uint32_t c) {
        const auto begin = m_out.up_head.begin() + m_out.up_first[c] + 1;  // without x itself
        const auto end = m_out.up_head.begin() + m_out.up_first[c + 1];
        m_joined.clear();
        std::set_union(m_row.begin(), m_row.end(), begin, end, std::back_inserter(m_joined));
        m_row.swap(m_joined);
    }
    void append(std::uint32_t x) {
        if (m_row.size() >= none - m_out.up_head.size())
            throw Error(ErrorKind::limit, "the region's node hierarchy is too large", "build a smaller area");
        m_out.up_head.insert(m_out.up_head.end(), m_row.begin(), m_row.end());
        m_out.up_first.push_back(static_cast<std::uint32_t>(m_out.up_head.size()));
        if (!m_row.empty()) {
            m_sibling[x] = m_child[m_row.front()];
            m_child[m_row.front()] = x;
        }
    }

    NodeHierarchy& m_out;
    std::vector<std::uint32_t> m_child, m_sibling;
    std::vector<std::uint32_t> m_row, m_joined;
};

}  // namespace

NodeHierarchy eliminate(const PlainGraph& graph, std::span<const std::uint32_t> order) {
    if (order.size() != graph.node_count())
        throw Error(ErrorKind::internal, "the order of the nodes does not fit the graph");
    NodeHierarchy out;
    const std::vector<std::uint32_t> node = inverse(order);
    const std::vector<std::uint32_t> position = post_order(tree_parents(graph, order, node));
    out.rank.resize(order.size());
    for (std::size_t n = 0; n < order.size(); ++n)
        out.rank[n] = position[order[n]];
    UpRows(out).make(graph, inverse(out.rank));
    return out;
}

}  // namespace loamway
