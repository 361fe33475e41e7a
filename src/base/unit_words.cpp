// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/unit_words.h"

#include <fmt/format.h>

#include <cmath>

namespace loamway {

namespace {

constexpr double metres_per_foot = 0.3048;

}  // namespace

std::string UnitWords::number(double metres) const {
    const double v = long_units(metres);
    return v < 10 ? fmt::format("{:.1f}", v) : fmt::format("{:.0f}", v);
}

std::string UnitWords::length(double metres) const {
    return fmt::format("{} {}", number(metres), long_unit());
}

std::string UnitWords::exact_number(double metres) const {
    return fmt::format("{:.1f}", long_units(metres));
}
std::string UnitWords::exact(double metres) const {
    return fmt::format("{} {}", exact_number(metres), long_unit());
}
std::string UnitWords::at(double metres) const {
    return fmt::format("{} {}", long_unit(), exact_number(metres));
}
std::string UnitWords::short_length(double metres) const {
    return m_imperial ? fmt::format("{:.0f} ft", metres / metres_per_foot) : fmt::format("{:.0f} m", metres);
}
std::string UnitWords::size(double metres) const {
    if (!m_imperial)
        return fmt::format("{:.2f} m", metres);
    // Tenths of an inch first, so that no foot has 12.0 of them.
    const double tenths = std::round(std::abs(metres) / metres_per_foot * 120);
    const double feet = std::floor(tenths / 120), inches = (tenths - 120 * feet) / 10;
    const std::string_view sign = metres < 0 && tenths > 0 ? "-" : "";
    return feet > 0 ? fmt::format("{}{:.0f} ft {:.1f} in", sign, feet, inches)
                    : fmt::format("{}{:.1f} in", sign, inches);
}
std::string UnitWords::temperature(double c) const {
    return m_imperial ? fmt::format("{:.0f} °F", c * 1.8 + 32) : fmt::format("{:.0f} °C", c);
}
std::string UnitWords::warmer(double k) const {
    return fmt::format("{:.2g} {}", m_imperial ? k * 1.8 : k, m_imperial ? "°F" : "°C");
}
std::string UnitWords::speed(double kmh) const {
    return fmt::format("{:.0f}", std::floor(m_imperial ? kmh / 1.609344 + 1e-9 : kmh));
}
std::string UnitWords::speed_cap(double kmh) const {
    return fmt::format("{} {}", speed(kmh), speed_unit());
}
std::string UnitWords::wear(double mm) const {
    return m_imperial ? fmt::format("{:.3f} in", mm / 25.4) : fmt::format("{:.2f} mm", mm);
}
std::string UnitWords::mass(double t) const {
    return m_imperial ? fmt::format("{:.0f} lb", t * 1000 / 0.45359237) : fmt::format("{:.1f} t", t);
}
std::string UnitWords::volume(double litres) const {
    return fmt::format("{:.0f}", m_imperial ? litres / 3.785411784 : litres);
}

}  // namespace loamway
