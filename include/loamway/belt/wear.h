// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_WEAR_H
#define LOAMWAY_BELT_WEAR_H

// Tread-bar wear on the road: form after Archard (1953) and Schallamach and Turner (1960), every number an
// assumption of this project (src/plan/METHODS.md, "Wear").
//   dh = sum over road pieces of w(surface) * km * F + k_turn * n90 * load^1.3
//   F = (v / 25 km/h)^0.5 * (load ratio)^1.3 * clamp(exp(0.01 (T_surface - 50)), 0.5, 2.5)
//   k_turn = w(surface) * (theta a / 4) / (1000 slip) * xi
// k_turn compares the mean slide under a belt that turns by theta about the middle of its flat run a with the
// slip of driving straight on; xi says how much harder full sliding is on the rubber. Pure functions, safe to
// call from any thread.

#include "loamway/base/surface.h"
#include "loamway/base/units.h"
#include "loamway/belt/road_surface.h"
#include "loamway/profile/machine.h"

namespace loamway {

struct WearRates {  // millimetres of mean bar height
    double hard_mm_per_km = 4.0e-3;
    double gravel_mm_per_km = 3.0e-3;
    double earth_mm_per_km = 0.8e-3;
    double field_mm_per_h = 0.0133;
    double concrete_mm_per_km = 4.5e-3;  // where a trip tells it from asphalt
    double turn_factor = 1.0;            // of the scrub of turns beside straight driving
    [[nodiscard]] double mm_per_km(SurfaceClass c) const;
};

/// What is known of these belts' wear: rates, and how far they may be off (one standard deviation, as a
/// share).
struct KnownWear {
    WearRates rates;
    double sd_share = 0.6;        // of the assumed rates, as the calibration takes them before any survey (A)
    double field_sd_share = 0.6;  // the same of the field's rate
    bool calibrated = false;
};

/// Heaviest track axle of a working state against that of the machine's first one.
[[nodiscard]] double load_ratio(const Machine& machine, const WorkingState& state);

/// The factor F. `load_ratio` as above; `surface` is the bar's surface temperature. Zero speed wears nothing.
[[nodiscard]] double wear_factor(Speed v, double load_ratio, Temperature surface);

/// Millimetres for one stretch at one speed.
[[nodiscard]] double wear_mm(SurfaceClass c, Length length, Speed v, double load_ratio, Temperature surface,
                             const WearRates& rates = {});

/// The same on the finer grounds of a trip: concrete has its own rate, a field counts by the hour.
[[nodiscard]] double ground_wear_mm(RoadSurface ground, Length length, Speed v, double load_ratio,
                                    Temperature surface, const WearRates& rates = {});

/// Scrub of one 90-degree turn on the given surface, by steering kind. Practice counts sharp turns on hard
/// surface; on loose ground the ground gives way first, and the figure is an upper bound.
[[nodiscard]] double turn_wear_mm(SurfaceClass c, const Machine& machine, double load_ratio,
                                  const WearRates& rates = {});

/// Millimetres as a share of what a set has between new and worn out; needs bar_height above worn_height.
[[nodiscard]] double wear_share(double mm, const BeltGeometry& belts);
/// Hours of field work that would wear as much.
[[nodiscard]] double field_hours_equivalent(double mm, const WearRates& rates = {});

}  // namespace loamway

#endif
