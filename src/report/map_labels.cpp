// SPDX-License-Identifier: Apache-2.0
#include "map_labels.h"

#include <algorithm>
#include <array>
#include <optional>

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

bool MapLabels::place(PagePoint at, double gap, const std::string& text, Lettering lettering) {
    const TextExtent size = m_canvas.measure(text, lettering);
    const double w = size.width, h = size.height;
    // Right is read first; straight above and below come before the corners.
    const std::array<PageBox, 8> candidates{{{at.x + gap, at.y - h / 2, w, h},
                                             {at.x - gap - w, at.y - h / 2, w, h},
                                             {at.x - w / 2, at.y - gap - h, w, h},
                                             {at.x - w / 2, at.y + gap, w, h},
                                             {at.x + gap * 0.7, at.y - gap * 0.7 - h, w, h},
                                             {at.x + gap * 0.7, at.y + gap * 0.7, w, h},
                                             {at.x - gap * 0.7 - w, at.y - gap * 0.7 - h, w, h},
                                             {at.x - gap * 0.7 - w, at.y + gap * 0.7, w, h}}};
    std::optional<PageBox> best;
    double least = 0;
    for (const PageBox& box : candidates) {
        const double t = trouble(box);
        if (t >= 0 && (!best || t < least)) {
            best = box;
            least = t;
        }
    }
    if (!best)
        return false;
    lettering.align = Align::left;
    lettering.rise = Rise::top;
    m_canvas.text({best->x, best->y}, text, lettering);
    m_taken.push_back(*best);
    return true;
}

}  // namespace loamway
