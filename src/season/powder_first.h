// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_POWDER_FIRST_H
#define LOAMWAY_SRC_SEASON_POWDER_FIRST_H

// Whether the belts are powdered before a move although they need not be yet.

#include "loamway/plan/inputs.h"

namespace loamway {

/// As the belts are, or with powder before leaving where that is cheaper or the only way: where the machine
/// has worked there is time for it, on the road places are few.
[[nodiscard]] Plan plan_or_powder_first(const PlanInputs& in, bool& powder_first);

}  // namespace loamway

#endif
