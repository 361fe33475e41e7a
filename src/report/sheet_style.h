// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_SHEET_STYLE_H
#define LOAMWAY_SRC_REPORT_SHEET_STYLE_H

// Shades, patterns and marks that all pictures share. Whatever a colour says, a pattern, a shape or a word
// says too: a black and white print and a colour-blind eye lose nothing.

#include <string>

#include "loamway/base/surface.h"
#include "loamway/plan/plan.h"
#include "loamway/report/canvas.h"

namespace loamway {

namespace shade {
constexpr Ink ink{0.07, 0.07, 0.09, 1};
constexpr Ink soft{0.38, 0.38, 0.40, 1};  // second-rank text
constexpr Ink rule{0.70, 0.70, 0.72, 1};  // thin lines
constexpr Ink panel{0.945, 0.94, 0.925, 1};
constexpr Ink paved{0.20, 0.20, 0.23, 1};
constexpr Ink gravel{0.86, 0.78, 0.62, 1};
constexpr Ink earth{0.74, 0.58, 0.42, 1};
constexpr Ink water{0.78, 0.87, 0.94, 1};
constexpr Ink water_line{0.36, 0.55, 0.72, 1};
constexpr Ink forest{0.915, 0.935, 0.89, 1};
constexpr Ink built_up{0.90, 0.895, 0.90, 1};
}  // namespace shade

/// How a surface is drawn as an area: paved full and dark, gravel dotted, earth hatched.
[[nodiscard]] Fill surface_fill(SurfaceClass c);
/// A stretch on the low-bed.
[[nodiscard]] Fill hauled_fill();
/// A stop's knot: number in a ring; a black ring for stops that belong to the belts, a square for others.
void draw_knot(Canvas& canvas, PagePoint at, double radius, const PlanStop& stop, int number);
/// A triangle with an exclamation mark.
void draw_warning(Canvas& canvas, PagePoint at, double size);

}  // namespace loamway

#endif
