// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_TEXT_REPORT_H
#define LOAMWAY_REPORT_TEXT_REPORT_H

// A plan as plain text: the answer on the terminal, and the stop sheet for the cab. Units follow
// Plan::units. Every name that comes from a map or a user's file is made printable first.

#include <string>

#include "loamway/plan/plan.h"

namespace loamway {

struct TextStyle {
    bool colour = false;     // ANSI bold and colour
    std::size_t width = 80;  // columns; long text is wrapped at words
};

/// Verdict first, reasons, the options side by side, the chosen option's stops and way, flags, what was
/// assumed, cautions, whose map it is.
[[nodiscard]] std::string plan_text(const Plan& plan, const TextStyle& style);

/// Stop sheet of one option (empty: the verdict's), at most 80 columns, to print and to tick off.
[[nodiscard]] std::string sheet_text(const Plan& plan, const std::string& option);

}  // namespace loamway

#endif
