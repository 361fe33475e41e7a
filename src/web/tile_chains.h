// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_TILE_CHAINS_H
#define LOAMWAY_SRC_WEB_TILE_CHAINS_H

#include <cstdint>
#include <span>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/region/region.h"

namespace loamway {

/// Roads that follow each other as long lines, so that they can be simplified across crossroads. Every edge
/// is in one line; lines end where other than two of the edges meet.
[[nodiscard]] std::vector<std::vector<GeoPoint>> chains_of(const RegionView& region,
                                                           std::span<const std::uint32_t> edges);

}  // namespace loamway

#endif
