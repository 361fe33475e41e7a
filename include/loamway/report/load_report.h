// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_LOAD_REPORT_H
#define LOAMWAY_REPORT_LOAD_REPORT_H

// A loading plan for people: as text for a phone, a terminal or a sheet of paper, and as a drawing from the
// side and from behind with dimensions.

#include <string>

#include "loamway/haul/loading_plan.h"
#include "loamway/report/canvas.h"
#include "loamway/report/text_report.h"

namespace loamway {

/// What stands in the way first, then the steps in order, figures, what was assumed, cautions.
[[nodiscard]] std::string load_text(const LoadingPlan& plan, const TextStyle& style);

/// One page A4 across: the whole combination from the side, the ramp, the load from behind, and the mark to
/// stop at. To scale; black and white is enough to read it.
[[nodiscard]] std::string load_picture(const LoadingPlan& plan, PictureFormat format);

}  // namespace loamway

#endif
