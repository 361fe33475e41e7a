// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_MIXED_OPTION_H
#define LOAMWAY_PLAN_MIXED_OPTION_H

// A mixed move in words and figures.

#include "mixed_planner.h"
#include "options.h"

namespace loamway {

/// `haul`: the move hauled from door to door. Where that can be done, mixing has to save more than one
/// billing step to be an option; what stands against it is said otherwise. A machine that would have to wait
/// for the low-bed leaves later.
[[nodiscard]] Option mixed_option(const Setting& setting, DrivePlanner& drive, Hauling& hauling,
                                  const Option& haul);

}  // namespace loamway

#endif
