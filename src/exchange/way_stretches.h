// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_EXCHANGE_WAY_STRETCHES_H
#define LOAMWAY_SRC_EXCHANGE_WAY_STRETCHES_H

// A way in stretches of one leg and one surface, and lines that stay on one side of the date line.

#include <vector>

#include "loamway/plan/plan.h"

namespace loamway {

/// Without a surface where the plan has none.
struct WayStretch {
    double from_m, to_m;
    const Leg* leg;
    const SurfaceRun* surface;
};

/// The legs one after the other, each with its surface runs and what lies between them.
[[nodiscard]] std::vector<WayStretch> stretches_of(const Option& o, double length_m);

using Line = std::vector<GeoPoint>;
/// Pieces that each stay on one side of the date line and meet at it. Requires a point.
[[nodiscard]] std::vector<Line> cut_at_date_line(const Line& line);

}  // namespace loamway

#endif
