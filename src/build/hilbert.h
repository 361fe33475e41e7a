// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_HILBERT_H
#define LOAMWAY_SRC_BUILD_HILBERT_H

#include <cstdint>

#include "loamway/base/geo.h"

namespace loamway {

/// Place of a point along a Hilbert curve over the whole globe: points near each other mostly get numbers
/// near each other, so that a search which walks over the map walks over memory in order.
[[nodiscard]] std::uint64_t hilbert_index(GeoPoint p);

}  // namespace loamway

#endif
