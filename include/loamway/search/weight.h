// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_WEIGHT_H
#define LOAMWAY_SEARCH_WEIGHT_H

// What a search adds up: a primary weight and, to decide among equals, a length in decimetres, both below
// 2^32, in one number. Comparing it compares the primary weight first.

#include <cstdint>
#include <limits>

namespace loamway {

using RouteWeight = std::uint64_t;

/// No way, or a sum that has left the 64 bits.
constexpr RouteWeight infinite_weight = std::numeric_limits<RouteWeight>::max();

[[nodiscard]] constexpr RouteWeight pack_weight(std::uint32_t primary, std::uint32_t length_dm) {
    return (RouteWeight{primary} << 32) | length_dm;
}
[[nodiscard]] constexpr std::uint64_t primary_of(RouteWeight w) {
    return w >> 32;
}
[[nodiscard]] constexpr std::uint64_t length_of(RouteWeight w) {
    return w & 0xffffffffu;
}

/// Stays infinite once infinite. The lengths must add up to less than 2^32 (429,496 km).
[[nodiscard]] constexpr RouteWeight add_weights(RouteWeight a, RouteWeight b) {
    const RouteWeight sum = a + b;
    return sum | (RouteWeight{0} - static_cast<RouteWeight>(sum < a));
}

}  // namespace loamway

#endif
