// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/loading_geometry.h"

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr Length end_room = Length::from_metres(0.15);  // assumption

double required_positive(double v) {
    if (v > 0)
        return v;
    throw Error(ErrorKind::internal, "a length of the loading geometry is not above zero");
}

}  // namespace

Across across_deck(Length gauge, Length belt_width, Length deck_width) {
    Across a;
    a.outer_width = gauge + belt_width;
    a.overhang = std::max(Length(), (a.outer_width - deck_width) * 0.5);
    const double inner = (gauge - belt_width).metres() / 2;
    a.share_on_deck =
        std::clamp((deck_width.metres() / 2 - inner) / required_positive(belt_width.metres()), 0.0, 1.0);
    a.outriggers = a.outer_width + side_margin * 2 > deck_width;
    a.extension = std::max(Length(), (a.outer_width + side_margin * 2 - deck_width) * 0.5);
    a.centre_from_edge = (gauge - deck_width) * 0.5;
    return a;
}

int outriggers_per_side(Length standing, Length pitch) {
    return static_cast<int>(
               std::ceil((standing + end_room * 2).metres() / required_positive(pitch.metres()) - 1e-9)) +
           1;
}

Angle ramp_angle(Length height, Length above_deck, Length ramp_length) {
    const double rise = (height + above_deck) / ramp_length;
    if (!(rise > 0 && rise < 1))
        throw Error(ErrorKind::internal, "a ramp that does not reach its edge");
    return Angle::from_radians(std::asin(rise));
}
Length ramp_length(Length height, Length above_deck, Angle slope) {
    return (height + above_deck) / required_positive(std::sin(slope.radians()));
}
Length ramp_run(Length height, Length above_deck, Angle slope) {
    return (height + above_deck) / required_positive(std::tan(slope.radians()));
}

double friction_needed(Angle slope) {
    return std::tan(slope.radians()) + rolling_resistance;
}
Angle steepest(double friction) {
    return Angle::from_radians(std::atan(std::max(0.0, friction - rolling_resistance)));
}

SeeSaw see_saw(Mass mass, Length centre_height, Length ahead, Length behind, Angle slope) {
    const double a = slope.radians();
    SeeSaw s{};
    s.past_edge = centre_height * std::tan(a);
    s.belt_beyond = ahead + s.past_edge;
    s.front_drop = s.belt_beyond * std::sin(a);
    s.rear_lift = (behind - s.past_edge) * std::sin(a);
    s.energy =
        Energy::from_joules(weight_of(mass).newtons() * centre_height.metres() * (1 / std::cos(a) - 1));
    s.stays_on_ramp = behind > s.past_edge;
    s.edge_force = weight_of(mass) * (0.5 * dynamic_factor);
    return s;
}

Length break_over_clearance(Length wheelbase, Angle slope) {
    return wheelbase * (0.5 * std::tan(slope.radians() / 2));
}
Angle approach_angle(Length clearance, Length overhang) {
    return Angle::from_radians(std::atan2(clearance.metres(), overhang.metres()));
}

PlankLoad plank_load(const Plank& p, Force load) {
    const double b = p.width.metres(), t = p.thickness.metres(), l = p.span.metres(), f = load.newtons();
    const double inertia = required_positive(b * t * t * t / 12);
    PlankLoad out;
    out.moment_nm = f * l / 4;
    out.bending = Stress::from_megapascals(6 * out.moment_nm / (b * t * t) / 1e6);
    out.shear = Stress::from_megapascals(1.5 * f / (b * t) / 1e6);
    out.deflection = Length::from_metres(
        f * l * l * l / (48 * required_positive(p.elasticity.megapascals()) * 1e6 * inertia));
    return out;
}

Length plank_thickness(Length span, Length width, Force load, Stress bending, Stress shear) {
    const double b = required_positive(width.metres());
    const double moment = load.newtons() * span.metres() / 4;
    const double by_bending = std::sqrt(6 * moment / (b * bending.megapascals() * 1e6));
    const double by_shear = 1.5 * load.newtons() / (b * shear.megapascals() * 1e6);
    return Length::from_metres(std::max(by_bending, by_shear));
}

Force roller_force(Mass mass, int roller_axles) {
    return weight_of(mass) * (0.5 * dynamic_factor / std::max(1, roller_axles));
}

}  // namespace loamway
