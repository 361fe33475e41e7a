// SPDX-License-Identifier: Apache-2.0
#include "map_labels.h"

#include <algorithm>

namespace loamway {

double MapLabels::trouble(const PageBox& box) const {
    if (!m_box.contains(box))
        return -1;
    for (const PageBox& taken : m_taken)
        if (taken.overlaps(box))
            return -1;
    return static_cast<double>(std::count_if(m_avoid.begin(), m_avoid.end(), [&box](const PagePoint& p) {
        return p.x >= box.x && p.x <= box.right() && p.y >= box.y && p.y <= box.bottom();
    }));
}

std::optional<PageBox> MapLabels::place(PagePoint at, double gap, const std::string& text,
                                        Lettering lettering) {
    const TextExtent size = m_canvas.measure(text, lettering);
    const double w = size.width, h = size.height;
    // Right is read first; straight above and below come before the corners.
    std::optional<PageBox> best;
    double least = 0;
    // A little farther off is still read as belonging to the point.
    for (const double g : {gap, 1.9 * gap}) {
        const double corner = g * 0.7;
        for (const PageBox& box :
             {PageBox{at.x + g, at.y - h / 2, w, h}, PageBox{at.x - g - w, at.y - h / 2, w, h},
              PageBox{at.x - w / 2, at.y - g - h, w, h}, PageBox{at.x - w / 2, at.y + g, w, h},
              PageBox{at.x + corner, at.y - corner - h, w, h}, PageBox{at.x + corner, at.y + corner, w, h},
              PageBox{at.x - corner - w, at.y - corner - h, w, h},
              PageBox{at.x - corner - w, at.y + corner, w, h}}) {
            const double t = trouble(box);
            if (t >= 0 && (!best || t < least)) {
                best = box;
                least = t;
            }
        }
        if (best)
            break;
    }
    if (!best)
        return std::nullopt;
    lettering.align = Align::left;
    lettering.rise = Rise::top;
    m_canvas.text({best->x, best->y}, text, lettering);
    constexpr double air = 2;
    m_taken.push_back({best->x - air, best->y - air / 2, w + 2 * air, h + air});
    return best;
}

}  // namespace loamway
