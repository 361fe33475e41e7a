// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_ORDER_MINIMUM_DEGREE_H
#define LOAMWAY_SRC_ORDER_MINIMUM_DEGREE_H

// Greedy order for graphs so small that cutting them up is of no use.

#include <cstdint>
#include <span>
#include <vector>

namespace loamway {

constexpr std::size_t minimum_degree_most = 64;

/// `neighbours[i]` holds a bit for each neighbour of node i; at most 64 nodes. Returns the nodes in the order
/// in which they are taken out: always the one with the fewest neighbours left, of those the lowest.
[[nodiscard]] std::vector<std::uint32_t> minimum_degree_order(std::span<const std::uint64_t> neighbours);

}  // namespace loamway

#endif
