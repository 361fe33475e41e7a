// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_RESULT_H
#define LOAMWAY_SRC_SEASON_SEASON_RESULT_H

// From the bare answer back to machines, fields and hours of the clock.

#include "loamway/season/season.h"
#include "season_plans.h"

namespace loamway {

struct SeasonFound {
    SeasonDesk& desk;
    const SeasonMatrix& matrix;
    const SeasonProblem& problem;
    const SolvedSeason& solved;
    const std::vector<TaskTimes>& times;
    const std::vector<PlannedMove>& plans;
    int rounds;
    std::vector<std::string> warnings;
};

[[nodiscard]] Season season_result(SeasonFound& found);

}  // namespace loamway

#endif
