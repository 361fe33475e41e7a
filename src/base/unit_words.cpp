// SPDX-License-Identifier: Apache-2.0
#include "plan_words.h"

#include <fmt/format.h>

#include <cmath>

namespace loamway {

namespace {

constexpr double metres_per_foot = 0.3048;

}  // namespace

std::string PlanWords::number(double metres) const {
    const double v = long_units(metres);
    return v < 10 ? fmt::format("{:.1f}", v) : fmt::format("{:.0f}", v);
}

std::string PlanWords::length(double metres) const {
    return fmt::format("{} {}", number(metres), long_unit());
}

std::string PlanWords::exact_number(double metres) const {
    return fmt::format("{:.1f}", long_units(metres));
}
std::string PlanWords::exact(double metres) const {
    return fmt::format("{} {}", exact_number(metres), long_unit());
}
std::string PlanWords::at(double metres) const {
    return fmt::format("{} {}", long_unit(), exact_number(metres));
}
std::string PlanWords::short_length(double metres) const {
    return m_imperial ? fmt::format("{:.0f} ft", metres / metres_per_foot) : fmt::format("{:.0f} m", metres);
}
std::string PlanWords::size(double metres) const {
    return m_imperial ? fmt::format("{:.1f} ft", metres / metres_per_foot) : fmt::format("{:.2f} m", metres);
}
std::string PlanWords::temperature(double c) const {
    return m_imperial ? fmt::format("{:.0f} °F", c * 1.8 + 32) : fmt::format("{:.0f} °C", c);
}
std::string PlanWords::warmer(double k) const {
    return fmt::format("{:.2g} {}", m_imperial ? k * 1.8 : k, m_imperial ? "°F" : "°C");
}
std::string PlanWords::speed_cap(double kmh) const {
    return m_imperial ? fmt::format("{:.0f} mph", std::floor(kmh / 1.609344 + 1e-9))
                      : fmt::format("{:.0f} km/h", kmh);
}
std::string PlanWords::wear(double mm) const {
    return m_imperial ? fmt::format("{:.3f} in", mm / 25.4) : fmt::format("{:.2f} mm", mm);
}
std::string PlanWords::mass(double t) const {
    return m_imperial ? fmt::format("{:.0f} lb", std::round(t * 1000 / 0.45359237 / 100) * 100)
                      : fmt::format("{:.1f} t", t);
}

}  // namespace loamway
