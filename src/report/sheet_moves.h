// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_SHEET_MOVES_H
#define LOAMWAY_SRC_REPORT_SHEET_MOVES_H

// A day's moves, for every form of sheet.

#include <span>
#include <string>
#include <vector>

#include "loamway/report/sheet.h"
#include "sheet_content.h"

namespace loamway {

/// In the order of leaving. Input Error when the region is not the one a plan was made with, or there is no
/// plan.
[[nodiscard]] std::vector<SheetContent> day_moves(std::span<const Plan> plans, const SheetSetup& setup);

/// "Moves of 2026-07-14".
[[nodiscard]] std::string day_title(std::span<const SheetContent> moves);

/// One machine in two places at once.
[[nodiscard]] std::vector<std::string> day_conflicts(std::span<const SheetContent> moves);

}  // namespace loamway

#endif
