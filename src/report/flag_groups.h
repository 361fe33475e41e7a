// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_FLAG_GROUPS_H
#define LOAMWAY_SRC_REPORT_FLAG_GROUPS_H

#include <string>
#include <vector>

#include "loamway/plan/plan.h"
#include "words.h"

namespace loamway {

/// What is for whoever plans to find out before the day: the driver cannot act on it.
[[nodiscard]] bool is_for_the_planner(const Flag& flag);

/// One line sums up what repeats: "9 times: bridge without a posted limit (km 3.1, 4.0, 5.2 and 6 more)".
struct FlagLine {
    Severity severity;
    std::string text;
};
/// Stop flags first, then check, then note; within one severity in driving order of the first.
[[nodiscard]] std::vector<FlagLine> flag_lines(const Option& option, const UnitWords& units);
/// "stop", "check", "note" as people read them.
[[nodiscard]] std::string_view severity_words(Severity s);

}  // namespace loamway

#endif
