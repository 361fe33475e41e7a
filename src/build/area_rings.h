// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_AREA_RINGS_H
#define LOAMWAY_SRC_BUILD_AREA_RINGS_H

// Rings of a multipolygon from its pieces, joined at shared end nodes.

#include <cstdint>
#include <span>
#include <vector>

namespace loamway {

using NodeList = std::vector<std::uint32_t>;

struct JoinedRings {
    std::vector<NodeList> rings;  // closed: the first node again at the end
    std::int64_t unclosed = 0;    // chains that do not come back to their start; left out
};

/// Pieces may run in either direction and in any order; closed pieces are rings of their own. Linear in the
/// number of pieces and nodes; the same pieces in the same order give the same rings.
[[nodiscard]] JoinedRings join_rings(std::span<const std::span<const std::uint32_t>> pieces);

}  // namespace loamway

#endif
