// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_RULES_H
#define LOAMWAY_SRC_SEASON_SEASON_RULES_H

// What is fixed and what is excluded, as ways and machines taken out of a problem.

#include "loamway/season/season_list.h"
#include "loamway/season/season_problem.h"

namespace loamway {

void apply_rules(const SeasonList& list, SeasonProblem& p);

}  // namespace loamway

#endif
