// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_MOVE_BREAK_EVEN_H
#define LOAMWAY_SRC_PLAN_MOVE_BREAK_EVEN_H

// From which length on this kind of move would be hauled.

#include "loamway/plan/plan.h"
#include "setting.h"

namespace loamway {

/// Fills in the plan's break-even from its best driven and its hauled option, as far as both can be done:
/// time, fuel and wear a kilometre as in the driven option, stops as often as its interval asks, the
/// low-bed's empty runs as they are.
void work_out_break_even(const Setting& setting, Plan& plan);

}  // namespace loamway

#endif
