// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_HEAT_MODEL_H
#define LOAMWAY_BELT_HEAT_MODEL_H

// Heat in a tread bar: what goes in and out while the machine drives or stands under given conditions.
//   sigma = kappa W_b / (n_w w l_c fill) s_sig,  U = sigma^2 / 2E,  psi = pi/2 sin(atan(tan delta))
//   q(T)  = q0 [1 - beta (T - T_ref)],  q0 = S_q (v / L) psi n_w U (1 + c_flex)
//   rho c dT/dt = k T_xx + q(T) - G_f (T - T_f),  x from the bar's root (0) to its tip (H)
//   x = 0: k T_x = U_c (T - T_c);  x = H: -k T_x = h_o (T - T_o) - q_tip
//   core = hottest T + lag,  tau_w lag' = U_f b/12k (hottest T - T_f) - lag,  tau_w = (b/2)^2 / (alpha pi^2)
// T is the mean over the bar's thickness b; the lag adds what the middle of the thickness is hotter by. Loss
// per pulse after linear viscoelasticity (Ferry, from memory), the air film after Jakob and Hilpert in
// Incropera and DeWitt (from memory), the contact as two semi-infinite bodies pressed together for a / v.
//
// Uncalibrated this is good to about 20 K (one standard deviation) at the core. Its outputs are estimates and
// no evidence of a belt's condition. Valid for bars of 10-120 mm, air of -40..55 C, 0-60 km/h.
// Marks: (c) from memory, (A) assumption of this project. Immutable after construction: share between
// threads.

#include <array>
#include <optional>

#include "loamway/base/units.h"
#include "loamway/belt/motion.h"
#include "loamway/belt/road_surface.h"
#include "loamway/profile/machine.h"

namespace loamway {

/// A tread compound of natural and styrene-butadiene rubber with carbon black.
struct RubberData {
    double k = 0.28;            // W/(m K), 0.20-0.35 (c)
    double rho = 1130.0;        // kg/m3, 1100-1180 (c)
    double c = 1800.0;          // J/(kg K), 1600-2000 (c)
    double modulus_pa = 6.0e6;  // dynamic, of the bar with its shape, 4-10 MPa (c)
    double tan_delta = 0.18;    // 0.10-0.25 (c)
    double beta = 0.003;        // 1/K, less loss as the rubber warms, 0-0.006 (A)
    double reference_c = 60.0;  // degC, where beta counts from
    double load_peak = 1.15;    // kappa: crown and uneven rollers, 1.0-1.6 (A)
    double flexing = 0.15;      // c_flex: bending round drive wheel and idler, 0-0.4 (A)
    [[nodiscard]] double diffusivity() const { return k / (rho * c); }
    [[nodiscard]] double effusivity() const;
};

struct SurfaceHeat {
    double stress = 1.0;      // s_sig: peak stress against asphalt, +-0.15 (A)
    double effusivity = 0.0;  // J/(m2 K s^0.5), +-30 % (c)
    double contact = 0.0;     // eta_c: share of a perfect contact, 0.05-0.6 (A)
    double flank = 0.0;       // share of the flanks that touches soil (A)
    double sun_kelvin = 0.0;  // surface above air at full sun (c)
    double slip = 0.0;        // (A)
};

struct AirData {
    double k = 0.0265;    // W/(m K)
    double nu = 1.65e-5;  // m2/s
    double prandtl = 0.71;
    double shelter = 0.7;                // of the free stream, 0.4-1 (A)
    double natural = 5.0;                // W/(m2 K), 3-8 (c)
    double radiation = 6.0;              // W/(m2 K), 5-7 (c)
    double inner = 25.0;                 // W/(m2 K) at the belt's inside, 10-50 (A)
    double inner_kelvin = 8.0;           // air inside the belt above outside, 0-20 (A)
    Speed still = Speed::from_mps(0.5);  // wind that is always there
};

/// Factors that readings can correct; one each until then.
struct HeatScales {
    double heat = 1.0;     // S_q
    double cooling = 1.0;  // S_h: on convection and contact
};

struct HeatParameters {
    RubberData rubber;
    std::array<SurfaceHeat, road_surface_count> surfaces{{
        {1.00, 1420.0, 0.15, 0.0, 18.0, 0.01},  // asphalt
        {1.00, 1800.0, 0.15, 0.0, 12.0, 0.01},  // concrete
        {0.85, 800.0, 0.15, 0.1, 10.0, 0.02},   // gravel
        {0.60, 1300.0, 0.40, 0.4, 6.0, 0.03},   // earth
        {0.45, 1500.0, 0.50, 0.7, 5.0, 0.05},   // field
    }};
    AirData air;
    HeatScales scales;
};

/// Bar core temperatures a driver acts on. Grounds: softening of sulphur-cured rubber above 150 C (Gooch
/// 2011), strength lost in days at 100 C (Yahya, Azura and Ahmad 2011), 96-110 C named critical for tyres
/// (trade pages).
struct HeatLimits {
    Temperature caution = Temperature::from_celsius(90);
    Temperature limit = Temperature::from_celsius(110);
    Temperature reversion = Temperature::from_celsius(140);
    /// Belts with under 50 hours: caution and limit 15 K lower (A).
    [[nodiscard]] static HeatLimits for_belts(std::optional<double> hours);
};

/// The most loaded belt of a working state, as the heat models see it.
struct BeltLoad {
    double weight_n = 0.0;  // W_b: half of the most loaded track axle
    int count = 2;          // belts on the machine
    int wheel_passes = 0;   // n_w: mid rollers, drive wheel and idler, per turn
    Length length, width, bar_height, bar_thickness, carcass, ground_run, contact;
    double fill = 0.0;
};

/// `bar_height` is today's, when measured. Input Error for dimensions the model cannot take.
[[nodiscard]] BeltLoad most_loaded_belt(const Machine& machine, const WorkingState& state,
                                        std::optional<Length> bar_height = std::nullopt);

/// How the machine moves; standing at zero speed.
struct Driving {
    RoadSurface surface = RoadSurface::asphalt;
    Speed speed;
    Temperature air = Temperature::from_celsius(20);
    double sun = 0.5;    // 0 night or overcast .. 1 clear noon
    double grade = 0.0;  // rise over run
};

/// Coefficients of the heat equation for one way of moving, in SI units and degC.
struct HeatRegime {
    double stress_pa = 0.0;       // sigma
    double q0 = 0.0;              // W/m3 at the reference temperature
    double h_o = 0.0, t_o = 0.0;  // tip
    double h_f = 0.0, t_f = 0.0;  // flank film
    double u_f = 0.0;             // flank, from the mean of the thickness
    double u_c = 0.0, t_c = 0.0;  // root
    double q_tip = 0.0;           // W/m2, friction of slip
    friend bool operator==(const HeatRegime&, const HeatRegime&) = default;
};

/// Pieces of the above that have checks of their own.
[[nodiscard]] double bar_air_film(const AirData& air, Length thickness, Speed v);  // h_sq, W/(m2 K)
[[nodiscard]] double contact_conductance(double effusivity_a, double effusivity_b, Duration contact);

class HeatModel {
public:
    HeatModel(const Machine& machine, const WorkingState& state, const HeatParameters& parameters = {},
              const MotionParameters& motion = {}, std::optional<Length> bar_height = std::nullopt);

    [[nodiscard]] HeatRegime regime(const Driving& driving) const;
    [[nodiscard]] const BeltLoad& belt() const { return m_belt; }
    [[nodiscard]] const HeatParameters& parameters() const { return m_parameters; }
    [[nodiscard]] const Motion& motion() const { return m_motion; }

    /// Share of the machine's motion-resistance power that becomes heat in the bars. Above
    /// `doubtful_energy_share` the parameters do not belong together and a person must be told.
    [[nodiscard]] double energy_share(const Driving& driving) const;
    static constexpr double doubtful_energy_share = 0.35;

private:
    BeltLoad m_belt;
    HeatParameters m_parameters;
    Motion m_motion;
};

/// The profile that a regime kept up for ever ends in, in closed form.
class SteadyBar {
public:
    SteadyBar(const BeltLoad& belt, const HeatRegime& regime, const RubberData& rubber);
    /// At `x_over_h` of the bar's height, 0 root .. 1 tip.
    [[nodiscard]] Temperature at(double x_over_h) const;
    [[nodiscard]] Temperature hottest() const;
    [[nodiscard]] Temperature core() const;

private:
    double m_height, m_decay, m_far, m_cosh, m_sinh;  // T = far + cosh-part + sinh-part
    double m_lag_per_kelvin, m_lag_sink;
};

/// Minutes at 110 C that age rubber as much as one minute at `core` (activation energy 110 kJ/mol (A)).
[[nodiscard]] double thermal_age_rate(Temperature core);
constexpr double thermal_age_flag_min = 30.0;  // a move that ages more deserves a word (A)
constexpr double thermal_age_red_min = 120.0;  // and more than that a warning (A)

}  // namespace loamway

#endif
