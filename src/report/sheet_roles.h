// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_SHEET_ROLES_H
#define LOAMWAY_SRC_REPORT_SHEET_ROLES_H

// The same option for who drives the low-bed and for who escorts.

#include "loamway/report/sheet.h"
#include "sheet_content.h"

namespace loamway {

/// `option` as for Plan::option_for_output. Throws not_found when the low-bed has nothing to do in it.
[[nodiscard]] SheetContent sheet_content_for(const Plan& plan, const std::string& option, SheetReader reader,
                                             const LoadingPlan* loading);

}  // namespace loamway

#endif
