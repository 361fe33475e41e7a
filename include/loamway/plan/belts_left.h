// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_BELTS_LEFT_H
#define LOAMWAY_PLAN_BELTS_LEFT_H

// What a move leaves of the powder: one rule for the way home, for what comes after in budgets and seasons,
// and for what the ledger notes. Hauling changes nothing, and neither does work in the field: soil helps, but
// nobody knows how much, so no kilometre is taken off the count (the interval is one of transport; common
// practice, no source).

#include "loamway/plan/plan.h"
#include "loamway/profile/machine.h"

namespace loamway {

struct PowderLeft {
    bool powdered = false;  // before leaving or on the way
    double since_m = 0;     // driven since then; without powder all that is driven
};
[[nodiscard]] PowderLeft powder_left(const Option& driven);

/// The belts where the option ends; as they were when it hauls all the way.
[[nodiscard]] BeltsNow belts_after(const BeltsNow& before, const Option& option);

}  // namespace loamway

#endif
