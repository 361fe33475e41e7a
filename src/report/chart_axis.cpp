// SPDX-License-Identifier: Apache-2.0
#include "chart_axis.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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

}  // namespace loamway
