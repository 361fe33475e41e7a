// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_PICTURES_H
#define LOAMWAY_REPORT_PICTURES_H

// Pictures of a plan as a whole, to decide by: what each choice gains and costs. Same plan, same bytes.

#include <string>

#include "loamway/plan/plan.h"
#include "loamway/report/canvas.h"

namespace loamway {

/// Length against paved length: the choices there are, the options marked, each with its least and most paved
/// length. Throws not_found for a plan without a driven way.
[[nodiscard]] std::string draw_choices(const Plan& plan, PictureFormat format);

/// A bar an option, stacked by what the money goes for, with the low and high estimate. Throws not_found for
/// a plan without costs.
[[nodiscard]] std::string draw_costs(const Plan& plan, PictureFormat format);

/// What driving and hauling cost over the length of such a move, where they meet, and this move. Throws
/// not_found for a plan where not both can be done.
[[nodiscard]] std::string draw_break_even(const Plan& plan, PictureFormat format);

}  // namespace loamway

#endif
