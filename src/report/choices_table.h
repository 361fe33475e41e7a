// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_CHOICES_TABLE_H
#define LOAMWAY_SRC_REPORT_CHOICES_TABLE_H

// The choices between length and paved length, one a line, with what each means.

#include <string>

#include "loamway/plan/plan.h"
#include "loamway/report/layout.h"

namespace loamway {

/// Empty when the plan has none to show; a sentence when the search for them ran out of room.
[[nodiscard]] std::string choices_table(const Plan& plan, std::size_t width, const Marks& marks);

}  // namespace loamway

#endif
