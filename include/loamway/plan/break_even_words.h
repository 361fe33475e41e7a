// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_BREAK_EVEN_WORDS_H
#define LOAMWAY_PLAN_BREAK_EVEN_WORDS_H

// A break-even in one sentence, without its full stop: verdict and picture say the same. Stops and billing
// steps can make the costs cross more than once; then no single length is named as the one.

#include <string>

#include "loamway/base/unit_words.h"
#include "loamway/plan/plan_uncertainty.h"

namespace loamway {

[[nodiscard]] std::string break_even_words(const PlanBreakEven& b, const UnitWords& words);

}  // namespace loamway

#endif
