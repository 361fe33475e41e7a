// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_PLANS_H
#define LOAMWAY_SRC_SEASON_SEASON_PLANS_H

// The moves of a season that was found, planned at their own hours, belts going from move to job to move.

#include <memory>
#include <optional>
#include <vector>

#include "season_matrix.h"

namespace loamway {

struct PlannedMove {
    std::shared_ptr<const Plan> plan;  // none: nothing moves
    std::string option;
    std::optional<MatrixWay> way;  // none: it cannot be done at that hour
    bool powder_first = false;
    double total_less_low_bed = 0;
    BudgetSum sum;  // of the move, as the planner prices it
    std::optional<double> bar_high_c, limit_c;
    std::vector<std::string> why_not;
    Instant depart;
};

/// Beside the tasks. Machines are planned side by side, each in its order.
[[nodiscard]] std::vector<PlannedMove> plan_tasks(const SeasonDesk& desk, const SeasonProblem& p,
                                                  const SeasonSolution& solution,
                                                  const std::vector<TaskTimes>& times, unsigned threads);

}  // namespace loamway

#endif
