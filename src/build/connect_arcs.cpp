// SPDX-License-Identifier: Apache-2.0
// Two arcs for each edge, and which nodes hang together.
#include <algorithm>
#include <numeric>

#include "assembly.h"

namespace loamway {

namespace {

class UnionFind {
public:
    explicit UnionFind(std::size_t size) : m_parent(size) { std::iota(m_parent.begin(), m_parent.end(), 0u); }
    std::uint32_t find(std::uint32_t x) {
        while (m_parent[x] != x) {
            m_parent[x] = m_parent[m_parent[x]];
            x = m_parent[x];
        }
        return x;
    }
    /// The lower number leads, so that the leader of a set does not depend on the order of joining.
    void join(std::uint32_t x, std::uint32_t y) {
        x = find(x);
        y = find(y);
        m_parent[std::max(x, y)] = std::min(x, y);
    }

private:
    std::vector<std::uint32_t> m_parent;
};

}  // namespace

void connect_arcs(RegionData& out) {
    out.arc_first.assign(out.node_lat.size() + 1, 0);
    for (const EdgeRecord& e : out.edges) {
        ++out.arc_first[e.tail + 1];
        ++out.arc_first[e.head + 1];
    }
    std::partial_sum(out.arc_first.begin(), out.arc_first.end(), out.arc_first.begin());
    out.arcs.resize(2 * out.edges.size());
    std::vector<std::uint32_t> next(out.arc_first.begin(), out.arc_first.end() - 1);
    for (std::uint32_t e = 0; e < out.edges.size(); ++e) {
        const EdgeRecord& edge = out.edges[e];
        out.arcs[next[edge.tail]++] = {edge.head, edge.length_dm, e, 0};
        out.arcs[next[edge.head]++] = {edge.tail, edge.length_dm, e, 1};
    }
}

void number_components(RegionData& out) {
    const auto nodes = static_cast<std::uint32_t>(out.node_lat.size());
    UnionFind sets(nodes);
    for (const EdgeRecord& e : out.edges)
        sets.join(e.tail, e.head);
    std::vector<std::uint64_t> length(nodes, 0);
    for (const EdgeRecord& e : out.edges)
        length[sets.find(e.tail)] += e.length_dm;
    std::vector<std::uint32_t> leaders;
    for (std::uint32_t n = 0; n < nodes; ++n)
        if (sets.find(n) == n)
            leaders.push_back(n);
    std::stable_sort(leaders.begin(), leaders.end(),
                     [&](std::uint32_t a, std::uint32_t b) { return length[a] > length[b]; });
    std::vector<std::uint32_t> number(nodes, 0);
    for (std::uint32_t i = 0; i < leaders.size(); ++i)
        number[leaders[i]] = i;
    out.component.resize(nodes);
    for (std::uint32_t n = 0; n < nodes; ++n)
        out.component[n] = number[sets.find(n)];
}

}  // namespace loamway
