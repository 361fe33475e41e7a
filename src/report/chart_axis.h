// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_CHART_AXIS_H
#define LOAMWAY_SRC_REPORT_CHART_AXIS_H

#include <string>
#include <vector>

#include "loamway/report/canvas.h"

namespace loamway {

/// A scale with round figures that holds both values. Bounded whatever they are: a damaged plan asks for
/// strange ones.
class ChartAxis {
public:
    ChartAxis(double low, double high, int steps_wanted);
    [[nodiscard]] double low() const { return m_low; }
    [[nodiscard]] double high() const { return m_high; }
    /// 0 at low, 1 at high; values outside stay at the edge.
    [[nodiscard]] double share(double value) const;
    struct Mark {
        double value;
        std::string text;
    };
    [[nodiscard]] std::vector<Mark> marks() const;

private:
    double m_low, m_high, m_step;
};

/// Grid, figures and titles of a chart in its field; the upright title stands so far left of it.
struct AxisTitles {
    std::string along, up;
    double up_left = 40;
};
void draw_axes(Canvas& c, const PageBox& field, const ChartAxis& x, const ChartAxis& y,
               const AxisTitles& titles);

/// The step of 1, 2 or 5 times a power of ten that gives at most `most` steps over the span.
[[nodiscard]] double round_step(double span, double most);

}  // namespace loamway

#endif
