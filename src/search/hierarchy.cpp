// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/hierarchy.h"

#include <algorithm>

#include "loamway/base/error.h"

namespace loamway {

namespace {

Error not_of_these_roads() {
    return {ErrorKind::damaged, "the region's node order does not belong to its roads",
            "build it again with `loamway region build`"};
}

// Below this much work threads cost more than they bring.
constexpr std::uint64_t worth_dividing = 400'000;
constexpr std::uint64_t shares = 24;

}  // namespace

Hierarchy::Hierarchy(const RegionView& region) : m_region(region) {
    if (!stored_in(region))
        throw Error(ErrorKind::not_found, "the region carries no node order",
                    "build it with `loamway region build`");
    m_node.resize(region.node_count());
    for (std::uint32_t n = 0; n < m_node.size(); ++n)
        m_node[region.node_rank[n]] = n;
    check_tree();
    find_arcs_of_edges();
    turn_arcs_over();
    divide_work();
}

// What the searches stand on: heads of a rank are, but for its parent, heads of the parent too (so all of
// them are ancestors), and ranks are in post-order (so subtrees are runs).
void Hierarchy::check_tree() const {
    const std::uint32_t count = node_count();
    const auto heads = m_region.up_head.begin();
    std::vector<std::uint32_t> size(count, 1), lowest(count);
    for (std::uint32_t x = 0; x < count; ++x)
        lowest[x] = x;
    for (std::uint32_t x = 0; x < count; ++x) {
        if (x - lowest[x] + 1 != size[x])
            throw not_of_these_roads();
        const std::uint32_t up = parent(x);
        if (up == none)
            continue;
        size[up] += size[x];
        lowest[up] = std::min(lowest[up], lowest[x]);
        if (!std::includes(heads + up_begin(up), heads + up_end(up), heads + up_begin(x) + 1,
                           heads + up_end(x)))
            throw not_of_these_roads();
    }
}

void Hierarchy::find_arcs_of_edges() {
    m_arc_of_edge.assign(m_region.edge_count(), none);
    const auto heads = m_region.up_head.begin();
    for (std::size_t e = 0; e < m_arc_of_edge.size(); ++e) {
        const EdgeRecord& edge = m_region.edges[e];
        if (edge.tail == edge.head)
            continue;
        const auto [low, high] = std::minmax(m_region.node_rank[edge.tail], m_region.node_rank[edge.head]);
        const auto end = heads + up_end(low);
        const auto at = std::lower_bound(heads + up_begin(low), end, high);
        if (at == end || *at != high)
            throw not_of_these_roads();
        m_arc_of_edge[e] = static_cast<std::uint32_t>(at - heads);
    }
}

void Hierarchy::turn_arcs_over() {
    m_below_first.assign(std::size_t{node_count()} + 1, 0);
    for (const std::uint32_t head : m_region.up_head)
        ++m_below_first[head + 1];
    for (std::uint32_t x = 0; x < node_count(); ++x)
        m_below_first[x + 1] += m_below_first[x];
    m_below.resize(arc_count());
    std::vector<std::uint32_t> next(m_below_first.begin(), m_below_first.end() - 1);
    for (std::uint32_t x = 0; x < node_count(); ++x)
        for (std::uint32_t arc = up_begin(x); arc < up_end(x); ++arc)
            m_below[next[up_head(arc)]++] = {x, arc};
}

// Work is counted in triangles.
void Hierarchy::divide_work() {
    const std::uint32_t count = node_count();
    std::vector<std::uint64_t> work(count, 1);  // of each subtree
    std::vector<std::uint32_t> size(count, 1);
    std::uint64_t total = 0;
    for (std::uint32_t x = 0; x < count; ++x) {
        for (const Below& b : below(x))
            work[x] += up_end(b.tail) - b.arc;
        if (const std::uint32_t up = parent(x); up != none) {
            work[up] += work[x];
            size[up] += size[x];
        } else {
            total += work[x];
        }
    }
    const std::uint64_t share = total < worth_dividing ? total : total / shares;
    std::uint64_t gathered = 0;
    for (std::uint32_t x = 0; x < count; ++x) {
        if (work[x] > share) {
            if (!m_chains.empty() && m_chains.back().end == x && parent(x - 1) == x)
                ++m_chains.back().end;
            else
                m_chains.push_back({x, x + 1});
        } else if (parent(x) == none || work[parent(x)] > share) {
            const Run subtree{x + 1 - size[x], x + 1};
            const bool joins = !m_pieces.empty() && m_pieces.back().end == subtree.begin;
            if (joins && gathered + work[x] <= share) {
                m_pieces.back().end = subtree.end;
                gathered += work[x];
            } else {
                m_pieces.push_back(subtree);
                gathered = work[x];
            }
        }
    }
}

}  // namespace loamway
