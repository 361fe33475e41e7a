// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_BUDGET_WORDS_H
#define LOAMWAY_SRC_SEASON_BUDGET_WORDS_H

// A budget's figures as terminal and sheet say them.

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loamway/season/budget.h"

namespace loamway {

/// "drive 28 km, 2 stops, 1 h 20"; "stays"; "cannot be done".
[[nodiscard]] std::string move_words(const JobBudget& job);
/// "2026-07-14 06:00" in the region's zone.
[[nodiscard]] std::string moment_words(const Budget& budget, const std::optional<Instant>& t);
[[nodiscard]] std::string basis_words(std::string_view basis);
/// "88 °C of 110"; the upper edge of the estimate.
[[nodiscard]] std::string heat_words_of(const JobBudget& job);
/// Name and money, largest first, without the nothings.
[[nodiscard]] std::vector<std::pair<std::string, double>> cost_causes(const CostCauses& c);
[[nodiscard]] std::vector<std::pair<std::string, double>> wear_causes(const WearCauses& w);
/// " at 56 CU per ha"; empty where there are none.
[[nodiscard]] std::string per_hectare_words(const Budget& budget, const JobBudget& job);
/// "1 move cannot be done and is left out of the sums, the work there counted"; empty where all can.
[[nodiscard]] std::string not_done_words(const Budget& budget);
/// What the bands stand for.
[[nodiscard]] std::string band_words(const Budget& budget);
/// "+120", beside the budget as written; "-" where not the same moves can be done.
[[nodiscard]] std::string more_words(const Budget& budget, const BudgetSum& then, int not_done);
[[nodiscard]] std::string headline(const Budget& budget);

}  // namespace loamway

#endif
