// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_MAP_LABELS_H
#define LOAMWAY_SRC_REPORT_MAP_LABELS_H

// Names on a map that cover neither each other nor what is drawn already. First come, first served: the
// weightiest is placed first.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "loamway/report/canvas.h"

namespace loamway {

class MapLabels {
public:
    /// Labels stay inside `box`.
    MapLabels(Canvas& canvas, const PageBox& box) : m_canvas(canvas), m_box(box) {}

    /// Nothing may be written over this.
    void keep_free(const PageBox& box) { m_taken.push_back(box); }
    /// Labels rather avoid these points, but may cover some of them.
    void avoid(std::span<const PagePoint> points) {
        m_avoid.insert(m_avoid.end(), points.begin(), points.end());
    }
    /// Writes the text beside `at`, `gap` away from it, where there is room; says where it did.
    std::optional<PageBox> place(PagePoint at, double gap, const std::string& text, Lettering lettering);

private:
    [[nodiscard]] double trouble(const PageBox& box) const;  // negative: impossible
    Canvas& m_canvas;
    PageBox m_box;
    std::vector<PageBox> m_taken;
    std::vector<PagePoint> m_avoid;
};

}  // namespace loamway

#endif
