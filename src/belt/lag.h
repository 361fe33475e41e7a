// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BELT_LAG_H
#define LOAMWAY_SRC_BELT_LAG_H

// By how much the middle of a bar's thickness is hotter than its mean: follows its target with one time
// constant. Exact for a target that moves linearly, and with weights that are never negative, so a hotter bar
// never gets the smaller lag.

#include <numbers>

#include "loamway/belt/heat_model.h"

namespace loamway {

inline double lag_time_s(const RubberData& rubber, double thickness_m) {
    const double half = thickness_m / 2.0;
    return half * half / (rubber.diffusivity() * std::numbers::pi * std::numbers::pi);
}

/// Kelvin of lag for each kelvin between the hottest place and the flank's surroundings, once settled.
inline double lag_per_kelvin(const HeatRegime& regime, const RubberData& rubber, double thickness_m) {
    return regime.u_f * thickness_m / (12.0 * rubber.k);
}

/// The lag after a step in which its target went from `before` to `after`; `left` is exp(-step / time).
inline double follow(double lag, double before, double after, double time_over_step, double left) {
    // Within no time worth the name nothing follows; the slope would be infinite, and nothing times it no
    // number.
    if (!(time_over_step < 1e12))
        return lag;
    const double slope = (after - before) * time_over_step;  // kelvin the target moves in one time constant
    return after - slope + (lag - before + slope) * left;
}

}  // namespace loamway

#endif
