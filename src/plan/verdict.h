// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_VERDICT_H
#define LOAMWAY_PLAN_VERDICT_H

// The advice: the cheapest option that can be done, in a sentence a driver would say, with its reasons.

#include <vector>

#include "loamway/plan/plan.h"

namespace loamway {

[[nodiscard]] Verdict make_verdict(const std::vector<Option>& options, const std::string& units);

}  // namespace loamway

#endif
