// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_VERDICT_H
#define LOAMWAY_PLAN_VERDICT_H

// The advice: the cheapest option that can be done, in a sentence a driver would say, with its reasons.

#include <vector>

#include "heat_answer.h"
#include "loamway/plan/plan.h"

namespace loamway {

/// Needs the plan's options and front. Adds to the plan's heat_search what was done against heat.
[[nodiscard]] Verdict make_verdict(Plan& plan, const std::vector<HeatNote>& notes);

}  // namespace loamway

#endif
