// SPDX-License-Identifier: Apache-2.0
#include "sheet_style.h"

#include <array>

namespace loamway {

Fill surface_fill(SurfaceClass c) {
    switch (c) {
        case SurfaceClass::hard:
            return {.ink = shade::paved};
        case SurfaceClass::gravel:
            return {.ink = shade::ink,
                    .pattern = Pattern::dots,
                    .spacing = 3.2,
                    .weight = 0.55,
                    .ground = shade::gravel};
        case SurfaceClass::earth:
            break;
    }
    return {.ink = shade::ink,
            .pattern = Pattern::diagonal,
            .spacing = 3.2,
            .weight = 0.7,
            .ground = shade::earth};
}

Fill hauled_fill() {
    return {.ink = shade::soft,
            .pattern = Pattern::horizontal,
            .spacing = 2.6,
            .weight = 0.8,
            .ground = white_ink};
}

void draw_knot(Canvas& canvas, PagePoint at, double radius, const PlanStop& stop, int number) {
    const Fill white{.ink = white_ink};
    const Stroke edge{.ink = shade::ink, .width = radius * 0.24};
    if (stop.kind == "relube" || stop.kind == "start")
        canvas.circle(at, radius, &white, &edge);
    else
        canvas.rectangle({at.x - radius, at.y - radius, 2 * radius, 2 * radius}, &white, &edge,
                         radius * 0.25);
    const std::string text = std::to_string(number);
    canvas.text(at, text,
                {.size = radius * (text.size() > 1 ? 1.05 : 1.35),
                 .bold = true,
                 .ink = shade::ink,
                 .align = Align::centre,
                 .rise = Rise::middle});
}

void draw_warning(Canvas& canvas, PagePoint at, double size) {
    const std::array<PagePoint, 3> corners{{{at.x, at.y - size * 0.62},
                                            {at.x + size * 0.66, at.y + size * 0.5},
                                            {at.x - size * 0.66, at.y + size * 0.5}}};
    const Fill white{.ink = white_ink};
    const Stroke edge{.ink = shade::ink, .width = size * 0.13};
    canvas.polygon(corners, &white, &edge);
    canvas.line({at.x, at.y - size * 0.24}, {at.x, at.y + size * 0.1},
                {.ink = shade::ink, .width = size * 0.16});
    const Fill black{.ink = shade::ink};
    canvas.circle({at.x, at.y + size * 0.32}, size * 0.09, &black, nullptr);
}

}  // namespace loamway
