// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_LOAD_VIEWS_H
#define LOAMWAY_SRC_REPORT_LOAD_VIEWS_H

// The views of a loading plan, each drawn to scale into a box of the page.

#include "loamway/haul/loading_plan.h"
#include "loamway/report/canvas.h"

namespace loamway {

/// More height than measured, for bounce under a bridge. Common practice, no source.
inline constexpr Length bounce_room = Length::from_metres(0.10);

/// Truck, low-bed and machine from the side, the truck to the left; the mark and the range of the centre of
/// mass; what each axle group carries.
void draw_load_side(Canvas& canvas, const PageBox& box, const LoadingPlan& plan);
/// The load from behind: deck, outriggers, boards, belts, height and width.
void draw_load_rear(Canvas& canvas, const PageBox& box, const LoadingPlan& plan);
/// The ramp, and the machine at the moment it tips over the upper edge or bridges it.
void draw_load_ramp(Canvas& canvas, const PageBox& box, const LoadingPlan& plan);

/// The whole drawing, laid out for A4 across.
void draw_load_page(Canvas& canvas, const LoadingPlan& plan);

/// Diameter of the round ends of a belt: what of its length is not flat, taken as two half circles.
[[nodiscard]] inline Length belt_height(const LoadingPlan& plan) {
    const BeltGeometry& b = plan.machine.belts;
    return (b.belt_length - b.ground_run * 2) * (1.0 / 3.14159265358979323846);
}

}  // namespace loamway

#endif
