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

/// One machine in two places at once, a move that begins before the machine is there. In driving order.
[[nodiscard]] std::vector<std::string> day_conflicts(std::span<const SheetContent> moves);

}  // namespace loamway

#endif
