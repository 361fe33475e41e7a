// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_PLANS_H
#define LOAMWAY_SRC_SEASON_SEASON_PLANS_H

// The moves of a season that was found, planned at their own hours, belts going from move to job to move.

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "season_matrix.h"

namespace loamway {

struct PlannedMove {
    std::shared_ptr<const Plan> plan;  // none: nothing moves
    std::string option;
    std::optional<MatrixWay> way;  // none: it cannot be done at that hour
    bool powder_first = false;
    BudgetSum sum;  // of the move, as the planner prices it
    std::optional<double> bar_high_c, limit_c;
    std::vector<std::string> why_not;
    Instant depart;
    BeltsNow belts_first;  // of the machine before the season
    double field_mm_per_h = 0;
};

/// What was planned before, by machine: the same move at the same hour with the same belts is not planned
/// twice.
using PlansKept = std::vector<std::map<std::string, PlannedMove>>;

/// Beside the tasks. Machines are planned side by side, each in its order.
[[nodiscard]] std::vector<PlannedMove> plan_tasks(const SeasonDesk& desk, const SeasonProblem& p,
                                                  const SeasonSolution& solution,
                                                  const std::vector<TaskTimes>& times, unsigned threads,
                                                  PlansKept& kept);

}  // namespace loamway

#endif
