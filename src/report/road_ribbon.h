// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_ROAD_RIBBON_H
#define LOAMWAY_SRC_REPORT_ROAD_RIBBON_H

#include "loamway/report/canvas.h"
#include "sheet_content.h"

namespace loamway {

/// The road as a ribbon down the box: trip meter from top to bottom, surface by pattern, stops as knots,
/// flags, and beside it on the same scale the estimated temperatures and, where the plan has it, the height.
void draw_road_ribbon(Canvas& canvas, const PageBox& box, const SheetContent& content);

}  // namespace loamway

#endif
