// SPDX-License-Identifier: Apache-2.0
#include <utility>
#include <vector>

#include "assembly.h"
#include "loamway/order/node_order.h"

namespace loamway {

void order_nodes(RegionData& out) {
    std::vector<std::uint32_t> head(out.arcs.size());
    for (std::size_t i = 0; i < head.size(); ++i)
        head[i] = out.arcs[i].head;
    NodeHierarchy hierarchy = order_nodes(out.arc_first, head);
    out.tree_parent.resize(hierarchy.rank.size());
    for (std::uint32_t x = 0; x < out.tree_parent.size(); ++x)
        out.tree_parent[x] = hierarchy.parent(x);
    out.node_rank = std::move(hierarchy.rank);
    out.up_first = std::move(hierarchy.up_first);
    out.up_head = std::move(hierarchy.up_head);
}

}  // namespace loamway
