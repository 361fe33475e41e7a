// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_PLAN_MOVE_H
#define LOAMWAY_LEDGER_PLAN_MOVE_H

// A move that was planned and then driven, as the ledger keeps it.

#include "loamway/ledger/event.h"
#include "loamway/plan/plan.h"

namespace loamway {

/// The driven part of an option: the planned figures stand for what was driven. Input Error for an option
/// that hauls only or has no route.
[[nodiscard]] MoveDone move_done(const Plan& plan, const Option& option);

}  // namespace loamway

#endif
