// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/heat_model.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double young_belt_hours = 50.0;
const Temperature young_belt_margin = Temperature::from_celsius(15);

constexpr double activation_j_per_mol = 110e3;
constexpr double gas_constant = 8.314462618;
constexpr double zero_celsius = 273.15;
constexpr double age_reference_kelvin = 383.15;

void require_between(const Machine& machine, const char* what, Length value, double low_mm, double high_mm) {
    if (value.mm() >= low_mm && value.mm() <= high_mm)
        return;
    throw Error(ErrorKind::input,
                fmt::format("{} of {:.6g} mm is outside what the heat estimate can take", what, value.mm()),
                fmt::format("{:g} to {:g} mm", low_mm, high_mm), {machine.file, {}, {}});
}

/// Films between a driving or standing bar and the air and road around it.
struct Films {
    double air;      // h_a
    double contact;  // h_c
    double sky;      // radiation
};

Films films(const BeltLoad& belt, const HeatParameters& p, const SurfaceHeat& s, Speed v) {
    const Speed wind = std::max(v, p.air.still);
    const double forced = p.air.shelter * bar_air_film(p.air, belt.bar_thickness, wind);
    Films out{};
    out.air = p.scales.cooling * std::cbrt(std::pow(p.air.natural, 3) + std::pow(forced, 3));
    out.sky = p.air.radiation;
    if (v.mps() > 0.0)
        out.contact = p.scales.cooling * s.contact *
                      contact_conductance(p.rubber.effusivity(), s.effusivity, belt.ground_run / v);
    return out;
}

/// Two films that act in turns: one for `share` of the time, the other for the rest.
void mix(double share, double h_road, double t_road, double h_air, double t_air, double& h, double& t) {
    h = share * h_road + (1.0 - share) * h_air;
    t = (share * h_road * t_road + (1.0 - share) * h_air * t_air) / h;
}

double heat_source(const BeltLoad& belt, const HeatParameters& p, double stress_pa, Speed v) {
    const double stored = stress_pa * stress_pa / (2.0 * p.rubber.modulus_pa);
    const double lost = pi / 2.0 * std::sin(std::atan(p.rubber.tan_delta));
    const double turns = v.mps() / belt.length.metres();
    return p.scales.heat * turns * lost * belt.wheel_passes * stored * (1.0 + p.rubber.flexing);
}

double tread_area_m2(const BeltLoad& belt) {
    return belt.count * belt.length.metres() * belt.width.metres() * belt.fill;
}

}  // namespace

double RubberData::effusivity() const {
    return std::sqrt(k * rho * c);
}

HeatLimits HeatLimits::for_belts(std::optional<double> hours) {
    HeatLimits out;
    if (hours && *hours < young_belt_hours) {
        out.caution -= young_belt_margin;
        out.limit -= young_belt_margin;
    }
    return out;
}

BeltLoad most_loaded_belt(const Machine& machine, const WorkingState& state,
                          std::optional<Length> bar_height) {
    const BeltGeometry& b = machine.belts;
    BeltLoad out;
    // A track axle carries two belts, one on each side.
    out.weight_n = state.heaviest_track_axle().kg() * standard_gravity / 2.0;
    out.count = b.count;
    out.wheel_passes = b.mid_rollers + 2;
    out.length = b.belt_length;
    out.width = b.width;
    out.bar_height = bar_height.value_or(b.bar_height);
    out.bar_thickness = b.bar_thickness;
    out.carcass = b.carcass;
    out.ground_run = b.ground_run;
    out.contact = b.contact;
    out.fill = b.fill;
    require_between(machine, "a bar height", out.bar_height, 2, 150);
    require_between(machine, "a bar thickness", out.bar_thickness, 5, 200);
    require_between(machine, "a carcass", out.carcass, 1, 200);
    require_between(machine, "a belt length", out.length, 500, 50000);
    require_between(machine, "a belt width", out.width, 50, 3000);
    require_between(machine, "a contact length", out.contact, 10, 2000);
    require_between(machine, "a ground run", out.ground_run, 50, out.length.mm());
    if (!(out.fill > 0.0 && out.fill <= 1.0) || !(out.weight_n > 0.0) || out.count < 1)
        throw Error(ErrorKind::input, "the belts carry no load or have no tread",
                    "give fill above 0 and the kilograms on the track axles", {machine.file, {}, {}});
    return out;
}

double bar_air_film(const AirData& air, Length thickness, Speed v) {
    const double reynolds = v.mps() * thickness.metres() / air.nu;
    const double nusselt = 0.102 * std::pow(reynolds, 0.675) * std::cbrt(air.prandtl);
    return nusselt * air.k / thickness.metres();
}

double contact_conductance(double effusivity_a, double effusivity_b, Duration contact) {
    const double both = effusivity_a * effusivity_b / (effusivity_a + effusivity_b);
    return 2.0 * both / std::sqrt(pi * contact.seconds());
}

HeatModel::HeatModel(const Machine& machine, const WorkingState& state, const HeatParameters& parameters,
                     const MotionParameters& motion, std::optional<Length> bar_height)
    : m_belt(most_loaded_belt(machine, state, bar_height)),
      m_parameters(parameters),
      m_motion(machine, state, motion) {}

HeatRegime HeatModel::regime(const Driving& driving) const {
    const HeatParameters& p = m_parameters;
    const SurfaceHeat& s = p.surfaces[static_cast<std::size_t>(driving.surface)];
    const Speed v = driving.speed;
    const bool moving = v.mps() > 0.0;
    const double air_c = driving.air.celsius();
    const double road_c = air_c + driving.sun * s.sun_kelvin;
    // A bar that stands in the air is the worst case: no contact with the ground.
    const double on_ground = moving ? m_belt.ground_run / m_belt.length : 0.0;
    const Films f = films(m_belt, p, s, v);

    HeatRegime out;
    mix(on_ground, f.contact, road_c, f.air + f.sky, air_c, out.h_o, out.t_o);
    // Bars stand close together: a flank sees half the sky.
    mix(on_ground * s.flank, f.contact, road_c, f.air + f.sky / 2.0, air_c, out.h_f, out.t_f);
    out.u_f = 1.0 / (1.0 / out.h_f + m_belt.bar_thickness.metres() / 2.0 / (3.0 * p.rubber.k));
    out.u_c = 1.0 / (1.0 / p.air.inner + m_belt.carcass.metres() / p.rubber.k);
    out.t_c = air_c + p.air.inner_kelvin;
    if (!moving)
        return out;
    out.stress_pa = p.rubber.load_peak * m_belt.weight_n * s.stress /
                    (m_belt.wheel_passes * m_belt.width.metres() * m_belt.contact.metres() * m_belt.fill);
    out.q0 = heat_source(m_belt, p, out.stress_pa, v);
    // What rubs on the road is the force that rolling and the grade ask for; the drag of the air, a few per
    // cent of it, is left out, as in the check values.
    const MotionResistance r = m_motion.resistance(driving.surface, v, driving.grade);
    const double pull = std::max(0.0, r.rolling_n + r.grade_n);
    const double into_rubber = p.rubber.effusivity() / (p.rubber.effusivity() + s.effusivity);
    out.q_tip = into_rubber * pull * s.slip * v.mps() / tread_area_m2(m_belt);
    return out;
}

double HeatModel::energy_share(const Driving& driving) const {
    if (driving.speed.mps() <= 0.0)
        return 0.0;
    const double bars_m3 = tread_area_m2(m_belt) * m_belt.bar_height.metres();
    const double power = m_motion.own_rolling_n(driving.surface, driving.speed) * driving.speed.mps();
    return regime(driving).q0 * bars_m3 / power;
}

// With T = far + A cosh(m x) + B sinh(m x), m^2 = (G_f + beta q0) / k, the two boundaries give A and B.
SteadyBar::SteadyBar(const BeltLoad& belt, const HeatRegime& r, const RubberData& rubber)
    : m_height(belt.bar_height.metres()) {
    const double k = rubber.k;
    const double sink = 2.0 * r.u_f / belt.bar_thickness.metres() + rubber.beta * r.q0;
    const double source =
        r.q0 * (1.0 + rubber.beta * rubber.reference_c) + 2.0 * r.u_f / belt.bar_thickness.metres() * r.t_f;
    m_far = source / sink;
    m_decay = std::sqrt(sink / k);
    const double c = std::cosh(m_decay * m_height), s = std::sinh(m_decay * m_height);
    // Root: k m B = U_c (far + A - t_c). Tip: -k m (A s + B c) = h_o (far + A c + B s - t_o) - q_tip.
    const double root = r.u_c / (k * m_decay);
    const double b0 = root * (m_far - r.t_c);  // B = b0 + root A
    const double tip_a = k * m_decay * s + r.h_o * c, tip_b = k * m_decay * c + r.h_o * s;
    m_cosh = (r.q_tip - r.h_o * (m_far - r.t_o) - tip_b * b0) / (tip_a + tip_b * root);
    m_sinh = b0 + root * m_cosh;
    m_lag_per_kelvin = r.u_f * belt.bar_thickness.metres() / (12.0 * k);
    m_lag_sink = r.t_f;
}

Temperature SteadyBar::at(double x_over_h) const {
    const double z = m_decay * m_height * x_over_h;
    return Temperature::from_celsius(m_far + m_cosh * std::cosh(z) + m_sinh * std::sinh(z));
}

Temperature SteadyBar::hottest() const {
    Temperature best = std::max(at(0.0), at(1.0));
    // Inside, the slope is zero where tanh(m x) = -B / A.
    const double t = -m_sinh / m_cosh;
    if (std::abs(t) < 1.0) {
        const double x_over_h = std::atanh(t) / (m_decay * m_height);
        if (x_over_h > 0.0 && x_over_h < 1.0)
            best = std::max(best, at(x_over_h));
    }
    return best;
}

Temperature SteadyBar::core() const {
    const double hot = hottest().celsius();
    return Temperature::from_celsius(hot + m_lag_per_kelvin * (hot - m_lag_sink));
}

double thermal_age_rate(Temperature core) {
    const double kelvin = core.celsius() + zero_celsius;
    return std::exp(-activation_j_per_mol / gas_constant * (1.0 / kelvin - 1.0 / age_reference_kelvin));
}

}  // namespace loamway
