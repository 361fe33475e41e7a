// SPDX-License-Identifier: Apache-2.0
#include "minimum_degree.h"

#include <bit>

namespace loamway {

std::vector<std::uint32_t> minimum_degree_order(std::span<const std::uint64_t> neighbours) {
    std::vector<std::uint64_t> joined(neighbours.begin(), neighbours.end());
    std::vector<std::uint32_t> order;
    std::vector<bool> out(joined.size(), false);
    while (order.size() < joined.size()) {
        std::uint32_t best = 0;
        int best_degree = 65;
        for (std::uint32_t i = 0; i < joined.size(); ++i)
            if (!out[i] && std::popcount(joined[i]) < best_degree) {
                best = i;
                best_degree = std::popcount(joined[i]);
            }
        out[best] = true;
        order.push_back(best);
        for (std::uint64_t left = joined[best]; left != 0; left &= left - 1) {
            const auto i = static_cast<std::uint32_t>(std::countr_zero(left));
            joined[i] |= joined[best];
            joined[i] &= ~((std::uint64_t{1} << i) | (std::uint64_t{1} << best));
        }
    }
    return order;
}

}  // namespace loamway
