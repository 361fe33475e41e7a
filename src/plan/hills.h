// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_HILLS_H
#define LOAMWAY_PLAN_HILLS_H

// What a way goes up and down, from the heights of the region.

#include "loamway/plan/plan.h"
#include "path.h"

namespace loamway {

/// Sets elevation and climb of an option; leaves them unset where the region knows no height along the path.
void set_hills(Option& o, const Setting& setting, const Path& path);

}  // namespace loamway

#endif
