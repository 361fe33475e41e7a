// SPDX-License-Identifier: Apache-2.0
#include "hilbert.h"

#include <utility>

namespace loamway {

std::uint64_t hilbert_index(GeoPoint p) {
    auto x = static_cast<std::uint32_t>(std::int64_t{p.lon_e7} + 1'800'000'000);
    auto y = static_cast<std::uint32_t>(std::int64_t{p.lat_e7} + 900'000'000);
    std::uint64_t index = 0;
    for (std::uint32_t side = 1u << 31; side > 0; side >>= 1) {
        const bool right = (x & side) != 0;
        const bool upper = (y & side) != 0;
        index = index << 2 | (right ? (upper ? 2u : 3u) : (upper ? 1u : 0u));
        if (upper)
            continue;
        // The two lower quarters run mirrored, so that the curve leaves each where the next begins.
        if (right) {
            x = ~x;
            y = ~y;
        }
        std::swap(x, y);
    }
    return index;
}

}  // namespace loamway
