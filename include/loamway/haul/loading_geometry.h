// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_HAUL_LOADING_GEOMETRY_H
#define LOAMWAY_HAUL_LOADING_GEOMETRY_H

// How a tracked machine meets a deck and a ramp: elementary geometry and statics, no source needed beyond
// what is named. Constants marked so are assumptions of this project. Pure functions.

#include "loamway/base/mechanics.h"

namespace loamway {

// ---- across the deck

constexpr Length side_margin = Length::from_metres(0.05);  // board beside a belt, each side (assumption)

struct Across {
    Length outer_width;        // over both belts: gauge + belt width
    Length overhang;           // of each belt beyond the deck's edge
    double share_on_deck = 1;  // of each belt's width
    bool outriggers = false;   // needed
    Length extension;          // of the deck each side, margin included
    Length centre_from_edge;   // belt's middle from the deck's edge; negative: over the deck
    /// The belts' middles are off the deck: boards and outriggers carry half the machine each.
    [[nodiscard]] bool centre_off_deck() const { return centre_from_edge > Length(); }
};
[[nodiscard]] Across across_deck(Length gauge, Length belt_width, Length deck_width);
/// Outriggers a side for a length that stands on them: ceil((length + 2 * 0.15 m) / pitch) + 1.
[[nodiscard]] int outriggers_per_side(Length standing, Length pitch);

// ---- the ramp

/// Slope from its length along the incline: sin a = (height + above_deck) / length, which must be shorter.
[[nodiscard]] Angle ramp_angle(Length height, Length above_deck, Length ramp_length);
[[nodiscard]] Length ramp_length(Length height, Length above_deck, Angle slope);
[[nodiscard]] Length ramp_run(Length height, Length above_deck, Angle slope);  // over the ground

constexpr double rolling_resistance = 0.05;  // assumption
/// Friction the slope asks for: tan a + rolling resistance.
[[nodiscard]] double friction_needed(Angle slope);
/// Steepest slope that a friction allows.
[[nodiscard]] Angle steepest(double friction);

constexpr double dynamic_factor = 1.25;  // assumption
/// A machine on straight belts tips over the ramp's upper edge when its centre of mass passes it.
struct SeeSaw {
    Length past_edge;    // what the centre of mass must pass beyond the edge: h tan a
    Length belt_beyond;  // belt beyond the edge at that moment
    Length front_drop;
    Length rear_lift;
    Energy energy;       // M g h (1 / cos a - 1)
    bool stays_on_ramp;  // it does not tip backward on the slope
    Force edge_force;    // on each side's edge, with the dynamic factor: half the machine
};
/// `centre_height` over the ground; `ahead` and `behind`: belt on the ground either way of the centre of
/// mass.
[[nodiscard]] SeeSaw see_saw(Mass mass, Length centre_height, Length ahead, Length behind, Angle slope);

/// Ground clearance between two axle groups that a crest of this angle asks for: wheelbase / 2 tan(a / 2).
[[nodiscard]] Length break_over_clearance(Length wheelbase, Angle slope);
/// The steepest slope an overhang passes: atan(clearance / overhang); 90 degrees without an overhang.
[[nodiscard]] Angle approach_angle(Length clearance, Length overhang);

// ---- planks

/// A plank on two supports, point load in the middle for bending, beside a support for shear.
struct Plank {
    Length span, width, thickness;
    Stress elasticity = Stress::from_megapascals(8600);
};
struct PlankLoad {
    double moment_nm = 0;
    Stress bending, shear;
    Length deflection;
};
[[nodiscard]] PlankLoad plank_load(const Plank& p, Force load);
/// Thickness at which neither stress passes what is allowed.
[[nodiscard]] Length plank_thickness(Length span, Length width, Force load, Stress bending, Stress shear);
/// One roller axle's part of one side: weight / 2 / rollers * dynamic factor.
[[nodiscard]] Force roller_force(Mass mass, int roller_axles);

}  // namespace loamway

#endif
