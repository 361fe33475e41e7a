// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_SHEET_LAYOUT_H
#define LOAMWAY_SRC_REPORT_SHEET_LAYOUT_H

#include <string>

#include "loamway/region/region.h"
#include "loamway/report/canvas.h"
#include "sheet_content.h"

namespace loamway {

/// Lays one move's sheet out on the canvas from its current page on: one page when all of it fits, else the
/// picture first and the lists after it.
void draw_move_sheet(Canvas& canvas, const SheetContent& content, const Region* region);

/// The line at the foot of every page: whose map it is, and the page when there are several.
void draw_page_foot(Canvas& canvas, const std::string& words, int page, int pages);

constexpr double page_margin = 26;
constexpr double foot_height = 14;

}  // namespace loamway

#endif
