// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_MECHANICS_H
#define LOAMWAY_BASE_MECHANICS_H

// Force, stress, angle and energy, each with its unit in the type, for what stands on decks, boards and
// ramps. Plain value types, safe to share between threads.

#include "loamway/base/units.h"

namespace loamway {

/// Force, kept in newtons.
class Force : public Quantity<Force> {
public:
    static constexpr Force from_newtons(double v) { return make(v); }
    [[nodiscard]] constexpr double newtons() const { return m_value; }
    [[nodiscard]] constexpr double kilonewtons() const { return m_value / 1000.0; }
};

/// Stress in a material, kept in megapascals (N/mm2).
class Stress : public Quantity<Stress> {
public:
    static constexpr Stress from_megapascals(double v) { return make(v); }
    [[nodiscard]] constexpr double megapascals() const { return m_value; }
};

/// A plane angle, kept in radians.
class Angle : public Quantity<Angle> {
public:
    static constexpr Angle from_degrees(double v) { return make(v * (pi / 180.0)); }
    static constexpr Angle from_radians(double v) { return make(v); }
    [[nodiscard]] constexpr double degrees() const { return m_value * (180.0 / pi); }
    [[nodiscard]] constexpr double radians() const { return m_value; }

private:
    static constexpr double pi = 3.14159265358979323846;
};

/// Energy, kept in joules.
class Energy : public Quantity<Energy> {
public:
    static constexpr Energy from_joules(double v) { return make(v); }
    [[nodiscard]] constexpr double kilojoules() const { return m_value / 1000.0; }
};

/// Standard gravity: what a mass weighs where nobody says otherwise.
[[nodiscard]] constexpr Force weight_of(Mass m) {
    return Force::from_newtons(m.kg() * 9.80665);
}

}  // namespace loamway

#endif
