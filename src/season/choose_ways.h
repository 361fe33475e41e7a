// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_CHOOSE_WAYS_H
#define LOAMWAY_SRC_SEASON_CHOOSE_WAYS_H

// The ways of all moves at once, with everybody's order settled. A low-bed that is there anyhow makes the
// next haul cheap: no change of one move alone finds that.

#include <vector>

#include "loamway/season/season_timing.h"

namespace loamway {

/// The same tasks in the same order with ways that cost as little as was found; at most `kept` beginnings are
/// followed, the cheapest. Empty when none comes to an end.
[[nodiscard]] std::vector<SeasonTask> choose_ways(const SeasonProblem& p,
                                                  const std::vector<SeasonTask>& tasks, std::size_t kept);

}  // namespace loamway

#endif
