// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_DEPARTURES_TABLE_H
#define LOAMWAY_SRC_REPORT_DEPARTURES_TABLE_H

// The same move at other hours, one a line.

#include <string>

#include "loamway/plan/plan.h"
#include "loamway/report/layout.h"

namespace loamway {

/// Empty when no other hours were asked for.
[[nodiscard]] std::string departures_table(const Plan& plan, std::size_t width, const Marks& marks);

}  // namespace loamway

#endif
