// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_WAYS_H
#define LOAMWAY_SRC_SEASON_SEASON_WAYS_H

// A plan's options as the ways of a season: the low-bed's empty runs taken out of the sums, times in whole
// minutes.

#include <vector>

#include "loamway/plan/inputs.h"
#include "loamway/season/season_problem.h"

namespace loamway {

struct FoundWay {
    SeasonWay way;  // low_bed, pick_up and drop are not set
    GeoPoint pick_up, drop;
    const Option* option = nullptr;  // of the plan it was found in
    double parts_without_low_bed = 0;
};

/// The cheapest way of each kind that can be done, cheapest driven way first.
[[nodiscard]] std::vector<FoundWay> ways_in(const Plan& plan, const PlanInputs& in);

/// Why nothing can be done, one line an option.
[[nodiscard]] std::vector<std::string> why_no_way(const Plan& plan);

[[nodiscard]] Cents cents_of(double units);
[[nodiscard]] Mode mode_of(WayKind kind);

}  // namespace loamway

#endif
