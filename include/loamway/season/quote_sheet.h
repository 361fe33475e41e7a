// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_QUOTE_SHEET_H
#define LOAMWAY_SEASON_QUOTE_SHEET_H

// A budget as a sheet of paper: jobs with what they take and cost, where the money goes, what if, the basis.

#include <string>

#include "loamway/report/canvas.h"
#include "loamway/season/budget.h"

namespace loamway {

[[nodiscard]] std::string quote_sheet(const Budget& budget, PictureFormat format);

}  // namespace loamway

#endif
