// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_ORDERED_REGION_H
#define LOAMWAY_TESTS_SUPPORT_ORDERED_REGION_H

// Region arrays with their node hierarchy, as the builder leaves them. TinyMap leaves the hierarchy out.
// Needs the part order.

#include <utility>
#include <vector>

#include "loamway/order/node_order.h"
#include "loamway/region/region.h"

namespace loamway {

inline RegionData ordered(RegionData data) {
    std::vector<std::uint32_t> head;
    for (const ArcRecord& a : data.arcs)
        head.push_back(a.head);
    NodeHierarchy h = order_nodes(data.arc_first, head);
    for (std::uint32_t x = 0; x < h.rank.size(); ++x)
        data.tree_parent.push_back(h.parent(x));
    data.node_rank = std::move(h.rank);
    data.up_first = std::move(h.up_first);
    data.up_head = std::move(h.up_head);
    return data;
}

}  // namespace loamway

#endif
