// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_BUDGET_SUMS_H
#define LOAMWAY_SRC_SEASON_BUDGET_SUMS_H

// What a move and the work after it add to a job's sums.

#include "loamway/plan/inputs.h"
#include "loamway/season/budget.h"

namespace loamway {

/// What the move itself takes.
void add_road(const PlanInputs& in, const Option& option, JobBudget& job);
/// What the work in the field takes, at the rates of the move.
void add_field(const PlanInputs& in, const FieldJob& job, BudgetSum& sum);

}  // namespace loamway

#endif
