// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_DAY_PAGE_H
#define LOAMWAY_SRC_REPORT_DAY_PAGE_H

#include <span>

#include "loamway/report/canvas.h"
#include "sheet_content.h"

namespace loamway {

/// The front page of a day: every move in one row, and what does not go together. Requires one move.
void draw_day_page(Canvas& canvas, std::span<const SheetContent> moves);

}  // namespace loamway

#endif
