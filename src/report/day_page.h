// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_DAY_PAGE_H
#define LOAMWAY_SRC_REPORT_DAY_PAGE_H

#include <span>
#include <string>
#include <vector>

#include "loamway/report/canvas.h"
#include "sheet_content.h"

namespace loamway {

/// The front page of a day: every move in one row, and what does not go together.
void draw_day_page(Canvas& canvas, std::span<const SheetContent> moves);

/// "Moves of 2026-07-14". Requires moves in the order of leaving.
[[nodiscard]] std::string day_title(std::span<const SheetContent> moves);

/// One machine in two places at once.
[[nodiscard]] std::vector<std::string> day_conflicts(std::span<const SheetContent> moves);

}  // namespace loamway

#endif
