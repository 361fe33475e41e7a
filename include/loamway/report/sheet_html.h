// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_SHEET_HTML_H
#define LOAMWAY_REPORT_SHEET_HTML_H

// The stop sheet for a phone: one file that needs nothing else, opens without a network and asks for nothing
// outside. Where the browser gives a position, it shows how far the next stop is along the way; positions and
// ticks stay in the browser.

#include <span>
#include <string>

#include "loamway/plan/plan.h"
#include "loamway/report/sheet.h"

namespace loamway {

/// One move, or a day's moves one below the other. Errors as draw_sheet; `setup.format` is not used.
[[nodiscard]] std::string sheet_html(std::span<const Plan> plans, const SheetSetup& setup);

}  // namespace loamway

#endif
