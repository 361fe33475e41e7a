// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_SHEET_HEAD_H
#define LOAMWAY_SRC_REPORT_SHEET_HEAD_H

#include "loamway/report/canvas.h"
#include "sheet_content.h"

namespace loamway {

/// The top of a sheet, readable from the seat: verdict and speed caps in large letters, the move below. With
/// `draw` false it is only measured. Returns its height.
double put_sheet_head(Canvas& canvas, const PageBox& box, const SheetContent& content, bool draw);

}  // namespace loamway

#endif
