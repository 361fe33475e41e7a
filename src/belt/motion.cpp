// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/motion.h"

#include <algorithm>
#include <cmath>

namespace loamway {
namespace {

double rolling_share(const MotionParameters& p, RoadSurface surface, Speed v) {
    const RollingResistance& r = p.rolling[static_cast<std::size_t>(surface)];
    return r.base + r.per_kmh * v.kmh();
}

}  // namespace

FuelRate fuel_rate(Power rated, double x, double n) {
    FuelRate out;
    out.litres_per_hour = (0.22 * x + 0.096) * rated.kw() * (1.0 + 0.0045 * x * n - 0.00877 * n);
    const double litres_per_kwh = 2.64 * x + 3.91 - 0.203 * std::sqrt(738.0 * x + 173.0);
    out.upper_litres_per_hour = litres_per_kwh * x * rated.kw();
    return out;
}

Motion::Motion(const Machine& machine, const WorkingState& state, const MotionParameters& parameters)
    : m_parameters(parameters),
      m_own_weight_n(state.mass.kg() * standard_gravity),
      m_weight_n(state.combination_mass().kg() * standard_gravity),
      m_frontal_m2(parameters.frontal_share * state.width.metres() * state.height.metres()),
      m_rated(machine.engine) {}

MotionResistance Motion::resistance(RoadSurface surface, Speed v, double grade) const {
    const double cosine = 1.0 / std::sqrt(1.0 + grade * grade);
    MotionResistance out;
    out.rolling_n = m_weight_n * rolling_share(m_parameters, surface, v) * cosine;
    out.grade_n = m_weight_n * grade * cosine;
    out.air_n =
        0.5 * m_parameters.air_density * m_parameters.drag_coefficient * m_frontal_m2 * v.mps() * v.mps();
    return out;
}

double Motion::own_rolling_n(RoadSurface surface, Speed v) const {
    return m_own_weight_n * rolling_share(m_parameters, surface, v);
}

Power Motion::axle_power(RoadSurface surface, Speed v, double grade) const {
    return Power::from_kw(std::max(0.0, resistance(surface, v, grade).total_n() * v.mps()) / 1000.0);
}

Power Motion::engine_power(RoadSurface surface, Speed v, double grade) const {
    return axle_power(surface, v, grade) / m_parameters.driveline_efficiency + m_parameters.auxiliary;
}

Speed Motion::max_speed(RoadSurface surface, double grade, Speed top) const {
    const Power usable = m_rated * m_parameters.usable_power;
    if (engine_power(surface, top, grade) <= usable)
        return top;
    if (m_parameters.auxiliary > usable)
        return {};
    // Power grows with speed wherever it is above the auxiliaries', so there is one crossing.
    Speed low, high = top;
    for (int i = 0; i < 60; ++i) {
        const Speed middle = (low + high) / 2.0;
        (engine_power(surface, middle, grade) <= usable ? low : high) = middle;
    }
    return low;
}

FuelRate Motion::fuel(RoadSurface surface, Speed v, double grade) const {
    // No engine gives more than its rated power: what asks for more crawls, and burns what full power burns.
    const double x = std::min(1.0, engine_power(surface, v, grade) / m_rated);
    FuelRate rate = fuel_rate(m_rated, x, m_parameters.engine_speed_reduction_pct);
    // At a light load the upper line, which goes to nothing, crosses the estimate, which idles.
    rate.upper_litres_per_hour = std::max(rate.upper_litres_per_hour, rate.litres_per_hour);
    return rate;
}

}  // namespace loamway
