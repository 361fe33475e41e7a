// SPDX-License-Identifier: Apache-2.0
// The node hierarchy: ranks, tree and arcs upwards stay within their arrays and lead upwards only, so every
// walk along them ends. Whether it is the hierarchy of these roads is found out by whoever searches with it.
#include <fmt/format.h>

#include <limits>

#include "check.h"

namespace loamway {
namespace {

constexpr std::uint32_t no_parent = std::numeric_limits<std::uint32_t>::max();

Fault ranks_fault(std::span<const std::uint32_t> rank) {
    std::vector<bool> seen(rank.size(), false);
    for (std::size_t n = 0; n < rank.size(); ++n) {
        if (rank[n] >= rank.size() || seen[rank[n]])
            return fmt::format("node {} has rank {}, which is {}", n, rank[n],
                               rank[n] >= rank.size() ? "too high" : "taken");
        seen[rank[n]] = true;
    }
    return std::nullopt;
}

Fault row_fault(const RegionView& v, std::uint32_t x) {
    const std::uint32_t begin = v.up_first[x], end = v.up_first[x + 1];
    std::uint32_t below = x;
    for (std::uint32_t i = begin; i < end; below = v.up_head[i], ++i)
        if (v.up_head[i] <= below || v.up_head[i] >= v.node_count())
            return fmt::format("rank {} leads up to rank {} of {} behind {}", x, v.up_head[i], v.node_count(),
                               below);
    const std::uint32_t parent = begin == end ? no_parent : v.up_head[begin];
    if (v.tree_parent[x] != parent)
        return fmt::format("rank {} has parent {} instead of {}", x, v.tree_parent[x], parent);
    return std::nullopt;
}

}  // namespace

Fault hierarchy_fault(const RegionView& v) {
    const std::size_t nodes = v.node_count();
    if (v.node_rank.empty() && v.tree_parent.empty() && v.up_first.empty() && v.up_head.empty())
        return std::nullopt;
    if (v.node_rank.size() != nodes || v.tree_parent.size() != nodes)
        return fmt::format("{} ranks and {} parents of {} nodes", v.node_rank.size(), v.tree_parent.size(),
                           nodes);
    if (Fault fault = ranges_fault("up_first", v.up_first, nodes, v.up_head.size()))
        return fault;
    if (Fault fault = ranks_fault(v.node_rank))
        return fault;
    for (std::uint32_t x = 0; x < nodes; ++x)
        if (Fault fault = row_fault(v, x))
            return fault;
    return std::nullopt;
}

}  // namespace loamway
