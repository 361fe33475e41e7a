// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_HEAT_ANSWER_H
#define LOAMWAY_PLAN_HEAT_ANSWER_H

// What a plan does against heat, in a word and in a sentence: slower, a pause, a stop to cool, another choice
// of way, the low-bed.

#include <string>
#include <vector>

#include "loamway/base/unit_words.h"
#include "loamway/plan/plan.h"

namespace loamway {

/// How a driven option stands with its heat limit.
struct HeatNote {
    std::string option;
    bool choice = false;  // a choice of the front that became an option
    bool slower = false, pause = false, cooling = false;
    std::string manner;        // what that is, in words
    bool plain_holds = false;  // as fast as it may go
    bool holds = false;        // in the manner taken
    bool stops_ok = false;
    double plain_cost = 0;  // as fast as it may go, whatever the bars say
    double high_c = 0;      // upper edge, in the manner taken
    std::size_t tried = 0;
};

struct HeatAnswer {
    std::string
        word;  // none, slower, pause, cooling stop (joined by " and "), other choice, hauling, no answer
    std::string reason;  // a sentence for the verdict; may be empty
};

/// For the option that the plan advises, or none.
[[nodiscard]] HeatAnswer heat_answer(const std::vector<Option>& options, const Option* advised,
                                     const std::vector<HeatNote>& notes, const UnitWords& words);

}  // namespace loamway

#endif
