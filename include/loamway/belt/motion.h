// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_MOTION_H
#define LOAMWAY_BELT_MOTION_H

// Motion resistance, engine power and fuel of a machine on the road.
//   R = W (rho0 + rho_v v_kmh) cos th,  G = W sin th,  A = 1/2 rho_air cd A v^2,  P = max(0, (R+G+A) v)/eta +
//   P_aux fuel: Q = (0.22 X + 0.096) P_rated (1 + 0.0045 X N - 0.00877 N) L/h, X = P/P_rated, N = %
//   engine-speed reduction. Form after Grisso, Kocher and Vaughan (2004); its coefficients are given from
//   memory. Upper line: specific consumption 2.64 X + 3.91 - 0.203 sqrt(738 X + 173) L/kWh, labelled ASABE
//   2001 in public code, not seen in the standard itself. Both take X at the power take-off; engine power is
//   used here.
// W is the machine with what it tows. Marks: (c) from memory, (A) assumption of this project.
// Immutable after construction, safe to share between threads.

#include <array>

#include "loamway/base/units.h"
#include "loamway/belt/road_surface.h"
#include "loamway/profile/machine.h"

namespace loamway {

constexpr double standard_gravity = 9.80665;  // m/s2

struct RollingResistance {
    double base = 0.0;     // share of the weight at standstill
    double per_kmh = 0.0;  // grows with speed: belt losses
};

struct MotionParameters {
    std::array<RollingResistance, road_surface_count> rolling{{
        {0.045, 0.0007},  // asphalt (A)
        {0.045, 0.0007},  // concrete (A)
        {0.055, 0.0007},  // gravel (A)
        {0.070, 0.0007},  // earth (A)
        {0.090, 0.0007},  // field (A)
    }};
    double driveline_efficiency = 0.82;       // (A)
    Power auxiliary = Power::from_kw(8);      // (A)
    double drag_coefficient = 0.9;            // (A)
    double air_density = 1.2;                 // kg/m3
    double frontal_share = 0.91;              // of width times height (A)
    double usable_power = 0.9;                // of the rated power, for speeds on grades (A)
    double engine_speed_reduction_pct = 0.0;  // N
};

/// Forces against the motion in newtons; grade is negative downhill.
struct MotionResistance {
    double rolling_n = 0.0;
    double grade_n = 0.0;
    double air_n = 0.0;
    [[nodiscard]] double total_n() const { return rolling_n + grade_n + air_n; }
};

/// Litres an hour: the estimate and the upper line.
struct FuelRate {
    double litres_per_hour = 0.0;
    double upper_litres_per_hour = 0.0;
};

/// At a share X of the rated power (0..1).
[[nodiscard]] FuelRate fuel_rate(Power rated, double x, double engine_speed_reduction_pct = 0.0);

class Motion {
public:
    Motion(const Machine& machine, const WorkingState& state, const MotionParameters& parameters = {});

    /// `grade` is rise over run, for example 0.03.
    [[nodiscard]] MotionResistance resistance(RoadSurface surface, Speed v, double grade) const;
    /// Rolling resistance of the machine alone on the level: what its own belts and wheels turn into heat.
    [[nodiscard]] double own_rolling_n(RoadSurface surface, Speed v) const;
    [[nodiscard]] Power axle_power(RoadSurface surface, Speed v, double grade) const;
    [[nodiscard]] Power engine_power(RoadSurface surface, Speed v, double grade) const;
    /// The fastest speed up to `top` at which the engine gives no more than its usable power; zero when the
    /// machine cannot climb the grade at all.
    [[nodiscard]] Speed max_speed(RoadSurface surface, double grade, Speed top) const;
    [[nodiscard]] FuelRate fuel(RoadSurface surface, Speed v, double grade) const;

private:
    MotionParameters m_parameters;
    double m_own_weight_n, m_weight_n, m_frontal_m2;
    Power m_rated;
};

}  // namespace loamway

#endif
