// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_STOP_INSETS_H
#define LOAMWAY_SRC_REPORT_STOP_INSETS_H

#include "loamway/region/region.h"
#include "loamway/report/canvas.h"
#include "sheet_content.h"

namespace loamway {

/// Height of the strip of insets below a map; how high a map must be to give that up.
constexpr double inset_strip_height = 96, map_worth_insets = 210;

/// Whether there are stops on the way to look at from near, and a map to show them on.
[[nodiscard]] bool has_insets(const SheetContent& content, const Region* region);
/// The surroundings of the first stops on the way, side by side, as many as fit the strip; each 700 m across
/// at least.
void draw_stop_insets(Canvas& canvas, const PageBox& strip, const SheetContent& content,
                      const Region& region);

}  // namespace loamway

#endif
