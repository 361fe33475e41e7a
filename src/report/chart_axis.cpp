// SPDX-License-Identifier: Apache-2.0
#include "chart_axis.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheet_style.h"

namespace loamway {

double round_step(double span, double most) {
    const double raw = std::clamp(span / most, 1e-6, 1e12);
    const double power = std::pow(10, std::floor(std::log10(raw)));
    for (const double factor : {1.0, 2.0, 5.0})
        if (factor * power >= raw)
            return factor * power;
    return 10 * power;
}

ChartAxis::ChartAxis(double low, double high, int steps_wanted) {
    const auto sane = [](double v) { return std::isfinite(v) ? std::clamp(v, -1e12, 1e12) : 0.0; };
    low = sane(low);
    high = std::max(sane(high), low);
    m_step = round_step(std::max(high - low, 1e-3 * std::max(1.0, std::abs(high))), steps_wanted);
    m_low = std::floor(low / m_step + 1e-9) * m_step;
    m_high = std::max(std::ceil(high / m_step - 1e-9) * m_step, m_low + m_step);
}

double ChartAxis::share(double value) const {
    return std::clamp((value - m_low) / (m_high - m_low), 0.0, 1.0);
}

std::vector<ChartAxis::Mark> ChartAxis::marks() const {
    const int digits = m_step < 1 ? static_cast<int>(std::ceil(-std::log10(m_step) - 1e-9)) : 0;
    std::vector<Mark> out;
    for (int i = 0; i < 100 && m_low + i * m_step <= m_high + m_step / 2; ++i)
        out.push_back({m_low + i * m_step, fmt::format("{:.{}f}", m_low + i * m_step, digits)});
    return out;
}

void draw_axes(Canvas& c, const PageBox& field, const ChartAxis& x, const ChartAxis& y,
               const AxisTitles& titles) {
    const Stroke thin{.ink = shade::rule, .width = 0.5};
    for (const auto& mark : x.marks()) {
        const double at = field.x + x.share(mark.value) * field.width;
        c.line({at, field.y}, {at, field.bottom()}, thin);
        c.text({at, field.bottom() + 4}, mark.text, {.size = 8, .ink = shade::ink, .align = Align::centre});
    }
    for (const auto& mark : y.marks()) {
        const double at = field.bottom() - y.share(mark.value) * field.height;
        c.line({field.x, at}, {field.right(), at}, thin);
        c.text({field.x - 5, at}, mark.text,
               {.size = 8, .ink = shade::ink, .align = Align::right, .rise = Rise::middle});
    }
    const Lettering title{.size = 8.5, .bold = true, .ink = shade::ink, .align = Align::centre};
    c.text({field.centre().x, field.bottom() + 16}, titles.along, title);
    const Canvas::Frame frame(c);
    c.move(field.x - titles.up_left, field.centre().y);
    c.rotate(-90);
    c.text({0, 0}, titles.up, title);
}

}  // namespace loamway
