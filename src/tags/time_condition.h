// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_TIME_CONDITION_H
#define LOAMWAY_TAGS_TIME_CONDITION_H

// The part of the opening-hours notation that road signs use: months and dates, weekdays, hours (over
// midnight too), sunset and sunrise, "off", rules joined by ";" (the later one rules its days) or ",".
// Years, weeks, holidays and anything else are not decided: the answer is `unknown`, never a guess.

#include <string_view>

#include "loamway/tags/vehicle.h"
#include "tri.h"

namespace loamway {

[[nodiscard]] Tri evaluate_time_condition(std::string_view text, const Moment& moment);

}  // namespace loamway

#endif
