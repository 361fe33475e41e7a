// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_HAUL_LOADING_PARTS_H
#define LOAMWAY_SRC_HAUL_LOADING_PARTS_H

// The pieces a loading plan is put together from; each reads what the ones before it left in the plan.

#include "loamway/haul/loading_plan.h"

namespace loamway {

/// Whether the edge that the ramps lead to is the deck's: as high as it (to a centimetre, assumption).
[[nodiscard]] inline bool meets_deck(const LowBed& bed) {
    const double apart_mm = (bed.ramp.height - bed.deck_height).mm();
    return apart_mm > -10 && apart_mm < 10;
}

/// How far the boards on the outriggers may stand above the deck (assumption).
inline constexpr Length highest_board = Length::from_mm(15);

[[nodiscard]] RampCheck check_ramp(const LoadingPlan& plan, bool slippery);
[[nodiscard]] DeckPlace place_on_deck(const LoadingPlan& plan);
[[nodiscard]] std::vector<BoardCheck> check_boards(const LoadingPlan& plan);
[[nodiscard]] LoadedLowBed loaded_size(const LoadingPlan& plan);
[[nodiscard]] TieDowns check_tie_downs(const LoadingPlan& plan);

/// What stands in the way or has to be looked at, stops first.
[[nodiscard]] std::vector<Finding> loading_findings(const LoadingPlan& plan);
[[nodiscard]] std::vector<std::string> edges_to_cover(const LoadingPlan& plan);
[[nodiscard]] std::vector<std::string> loading_steps(const LoadingPlan& plan);

/// Of the pair of axles or belts that weighs most: what each of its sides carries is half of it.
[[nodiscard]] inline Mass heaviest_pair(const LoadingPlan& plan) {
    return plan.state.heaviest_track_axle();
}
[[nodiscard]] inline bool one_pair_of_belts(const LoadingPlan& plan) {
    return plan.state.axles.size() == 1;
}

}  // namespace loamway

#endif
