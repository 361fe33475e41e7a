// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_WATCH_H
#define LOAMWAY_SRC_PLAN_WATCH_H

// How far a plan is, for those who wait for it.

#include <string_view>

#include "loamway/plan/inputs.h"

namespace loamway {

/// Tells the watch of the inputs, if any. Throws Stopped when nobody waits any longer.
inline void tell(const PlanInputs& in, std::string_view step, double share) {
    if (in.watch && !in.watch(step, share))
        throw Stopped();
}

/// The same inputs for one piece of the work, whose own shares run from `from` to `to` of the whole.
[[nodiscard]] inline PlanInputs watched_part(PlanInputs in, double from, double to) {
    if (in.watch)
        in.watch = [watch = std::move(in.watch), from, to](std::string_view step, double share) {
            return watch(step, from + share * (to - from));
        };
    return in;
}

}  // namespace loamway

#endif
