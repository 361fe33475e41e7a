// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_SHEET_H
#define LOAMWAY_REPORT_SHEET_H

// The stop sheet as a drawing: what is printed and taken into the cab. One page when the move allows. A4, or
// Letter for plans in imperial units. Same plan and region, same bytes.

#include <span>
#include <string>

#include "loamway/haul/loading_plan.h"
#include "loamway/plan/plan.h"
#include "loamway/region/region.h"
#include "loamway/report/canvas.h"

namespace loamway {

/// Who reads it: the machine's driver, the low-bed's, or who goes ahead of the machine.
enum class SheetReader { cab, low_bed, escort };

struct SheetSetup {
    PictureFormat format = PictureFormat::pdf;
    std::string option{};            // as for Plan::option_for_output
    const Region* region = nullptr;  // roads, water and names around the way; without: the way alone
    SheetReader reader = SheetReader::cab;
    const LoadingPlan* loading =
        nullptr;  // of a low-bed's sheet: steps, sizes and one more page, the drawing
};

/// The file's bytes. Throws as Plan::option_for_output does, and an input Error when the region is not the
/// one the plan was made with.
[[nodiscard]] std::string draw_sheet(const Plan& plan, const SheetSetup& setup);

/// A day's moves: a front page that lists them, then each one's sheet. `setup.option` must be empty or there
/// in every plan. Requires one plan.
[[nodiscard]] std::string draw_day_sheets(std::span<const Plan> plans, const SheetSetup& setup);

}  // namespace loamway

#endif
