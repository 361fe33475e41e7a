// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_GUIDE_LUG_H
#define LOAMWAY_BELT_GUIDE_LUG_H

// Heat where guide lugs rub on the mid rollers, lumped, for the most loaded belt.
//   mu(s, h) = mu_d - (mu_d - mu_lub) 2^(-s / s_half),  mu_d = mu_dry (1 + g_new exp(-h / h_b))
//   Q = p_r mu k_lat W_b r_s v;  C T' = Q - UA (T - T_air),  UA = UA0 + UAv v;  C and UA grow with belt
//   length
// s is the way driven since the lubrication (washing or a ford: none left), h the belt's hours. On dusty
// ground mu_d is at most mu_dust; on a wet road mu is mu_wet and powder does not help. Steps are exact.
// Marks: (b) common practice, no source; (c) from memory; (A) assumption of this project. There is no source
// for the caution temperature. Immutable after construction: share between threads.

#include <array>
#include <optional>

#include "loamway/base/units.h"
#include "loamway/belt/heat_model.h"
#include "loamway/belt/road_surface.h"
#include "loamway/profile/machine.h"

namespace loamway {

struct GuideLugParameters {
    double mu_dry = 0.60;                    // 0.4-0.8 (c)
    double new_gain = 0.40;                  // g_new: new belts are rougher (A); the first 50-100 hours (b)
    double break_in_h = 50;                  // h_b
    double mu_lubricated = 0.25;             // 0.15-0.35 (A)
    Length half_gone = Length::from_km(15);  // s_half: half the benefit gone at the usual interval (b)
    double mu_dust = 0.40;                   // (A)
    double mu_wet = 0.30;                    // (A)
    std::array<double, road_surface_count> lateral{0.04, 0.04, 0.06, 0.04,
                                                   0.04};  // k_lat: crown, alignment (A)
    double sliding = 0.20;                                 // r_s: lug engagement over roller radius (A)
    double into_rubber = 0.5;                              // p_r (A)
    double loss_w_per_k = 14.0;                            // UA0, for the reference length (A)
    double loss_per_mps = 3.2;                             // UAv (A)
    double capacity_j_per_k = 26e3;                        // C (A)
    Length reference_length = Length::from_metres(7.1);
    Temperature caution = Temperature::from_celsius(80);  // (A)
    Length longest_interval = Length::from_km(15);        // (b)
};

/// What lies on the lugs and how worn they are.
struct GuideLugState {
    std::optional<Length> since_lube;  // none: dry for good (washed, forded, never lubricated)
    std::optional<double> belt_hours;  // none: past break-in
    Ground ground = Ground::dry;
};

class GuideLug {
public:
    explicit GuideLug(const BeltLoad& belt, const GuideLugParameters& parameters = {});

    [[nodiscard]] double friction(const GuideLugState& state) const;
    /// Watts into the rubber of one belt.
    [[nodiscard]] double heat_w(double mu, RoadSurface surface, Speed v) const;
    [[nodiscard]] double loss_w_per_k(Speed v) const;
    [[nodiscard]] Duration time_constant(Speed v) const;
    /// Where the temperature tends to.
    [[nodiscard]] Temperature settled(double mu, const Driving& driving) const;
    /// One step at one friction, exact.
    [[nodiscard]] Temperature advance(Temperature from, double mu, const Driving& driving,
                                      Duration time) const;
    /// Drives on for `time` while the lubricant wears off; moves `state` along. Pieces of at most 10 s, each
    /// at the friction of its middle.
    [[nodiscard]] Temperature drive(Temperature from, GuideLugState& state, const Driving& driving,
                                    Duration time) const;
    /// How far from a fresh lubrication until the next: the longest interval, or less where the settled
    /// temperature reaches the caution. Zero when lubricant does not help enough: drive slower.
    [[nodiscard]] Length next_lube(const GuideLugState& state, const Driving& driving) const;
    [[nodiscard]] const GuideLugParameters& parameters() const { return m_parameters; }

private:
    [[nodiscard]] double dry_friction(const GuideLugState& state) const;
    GuideLugParameters m_parameters;
    double m_weight_n, m_scale;
};

}  // namespace loamway

#endif
