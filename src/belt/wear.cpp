// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/wear.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr double reference_kmh = 25.0;
constexpr double speed_exponent = 0.5;
constexpr double load_exponent = 1.3;
constexpr double per_kelvin = 0.01;
constexpr double reference_celsius = 50.0;

constexpr double right_angle = std::numbers::pi / 2.0;
constexpr double straight_slip = 0.01;
// Turning on the spot by driving the belts against each other slides them fully; a machine that bends or is
// steered by wheels mostly rolls round.
constexpr double severity_differential = 6.4;
constexpr double severity_other = 2.0;

double severity(Steering s) {
    return s == Steering::differential ? severity_differential : severity_other;
}

double load_factor(double load_ratio) {
    return std::pow(load_ratio, load_exponent);
}

}  // namespace

double WearRates::mm_per_km(SurfaceClass c) const {
    switch (c) {
        case SurfaceClass::hard:
            return hard_mm_per_km;
        case SurfaceClass::gravel:
            return gravel_mm_per_km;
        case SurfaceClass::earth:
            return earth_mm_per_km;
    }
    throw Error(ErrorKind::internal, "a surface class without a wear rate");
}

double load_ratio(const Machine& machine, const WorkingState& state) {
    return state.heaviest_track_axle() / machine.states.front().heaviest_track_axle();
}

double wear_factor(Speed v, double load_ratio, Temperature surface) {
    const double heat = std::clamp(std::exp(per_kelvin * (surface.celsius() - reference_celsius)), 0.5, 2.5);
    return std::pow(v.kmh() / reference_kmh, speed_exponent) * load_factor(load_ratio) * heat;
}

double wear_mm(SurfaceClass c, Length length, Speed v, double load_ratio, Temperature surface,
               const WearRates& rates) {
    return rates.mm_per_km(c) * length.km() * wear_factor(v, load_ratio, surface);
}

double ground_wear_mm(RoadSurface ground, Length length, Speed v, double load_ratio, Temperature surface,
                      const WearRates& rates) {
    if (!(v.mps() > 0.0))
        return 0.0;
    if (ground == RoadSurface::field)
        return rates.field_mm_per_h * (length / v).hours();
    const double per_km =
        ground == RoadSurface::concrete ? rates.concrete_mm_per_km : rates.mm_per_km(class_of(ground));
    return per_km * length.km() * wear_factor(v, load_ratio, surface);
}

double turn_wear_mm(SurfaceClass c, const Machine& machine, double load_ratio, const WearRates& rates) {
    const double mean_slide_m = right_angle * machine.belts.ground_run.metres() / 4.0;
    const double straight_km = mean_slide_m / (1000.0 * straight_slip);
    return rates.mm_per_km(c) * straight_km * severity(machine.steering) * load_factor(load_ratio) *
           rates.turn_factor;
}

double wear_share(double mm, const BeltGeometry& belts) {
    return mm / (belts.bar_height - belts.worn_height).mm();
}

double field_hours_equivalent(double mm, const WearRates& rates) {
    return mm / rates.field_mm_per_h;
}

}  // namespace loamway
