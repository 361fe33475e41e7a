// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_OPTIONS_TABLE_H
#define LOAMWAY_SRC_REPORT_OPTIONS_TABLE_H

#include <string>

#include "loamway/plan/plan.h"
#include "loamway/report/layout.h"

namespace loamway {

/// The options side by side: lengths, time, stops, cost by parts, wear. Rows nobody has a figure for are
/// left out; where the columns do not fit, the table goes on below.
/// Why its surfaces are not those of ribbon, page and exports; empty where they are the same as printed.
[[nodiscard]] std::string surfaces_note(const Plan& plan);

[[nodiscard]] std::string options_table(const Plan& plan, std::size_t width, const Marks& marks);

}  // namespace loamway

#endif
