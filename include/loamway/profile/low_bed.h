// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PROFILE_LOW_BED_H
#define LOAMWAY_PROFILE_LOW_BED_H

// Truck and low-bed as one combination: what it weighs and measures, where its axles stand, its deck, ramp,
// outriggers, boards and chains. Every default is an assumption of this project.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/mechanics.h"
#include "loamway/base/units.h"
#include "loamway/tags/vehicle.h"
#include "loamway/text/value.h"

namespace loamway {

struct WorkingState;

/// Axles of truck and trailer; distances from the kingpin, to the rear. A group stands for its middle.
struct TruckAxles {
    Mass steer = Mass::from_kg(5200), drive = Mass::from_kg(4000);  // of the truck alone
    Mass trailer = Mass::from_kg(9300);                             // of the trailer alone
    Length wheelbase = Length::from_metres(4.2);       // steering axle to the middle of the drive axles
    Length kingpin_ahead = Length::from_metres(0.35);  // of the middle of the drive axles
    Length trailer_centre = Length::from_metres(6.0);  // centre of mass of the empty trailer
    Length trailer_at = Length::from_metres(9.3);      // middle of its axles
    int drive_axles = 2, trailer_axles = 3;
    Length drive_spacing = Length::from_metres(1.35), trailer_spacing = Length::from_metres(1.36);
    // What each may carry, by its maker or by rule, whichever is less.
    Mass steer_limit = Mass::from_kg(7500), drive_limit = Mass::from_kg(18000);
    Mass trailer_limit = Mass::from_kg(24000), kingpin_limit = Mass::from_kg(15000);
};

struct Deck {
    Length width = Length::from_metres(2.55);
    Length length = Length::from_metres(8.05);  // usable, without the gooseneck
    Length start = Length::from_metres(3.2);    // behind the kingpin
    Length cover;                               // boards or mats that lie on the deck under the belts
    [[nodiscard]] Length end() const { return start + length; }
};

struct Ramp {
    bool at_front = false;  // the gooseneck comes off and the machine climbs over the front of the deck
    Length height = Length::from_metres(0.9);  // of the edge it leads to
    Length length = Length::from_metres(4.4);  // along the slope
    Length width = Length::from_metres(0.6);   // of one ramp
    Length plank = Length::from_mm(75);        // thickness
    Length span = Length::from_metres(0.5);    // of the planks between their bearers
    Length above_deck = Length::from_mm(10);   // its top over the deck's
    bool head_on_beam = true;                  // the upper end rests on the deck's own cross beam
};

struct Outriggers {
    Length reach = Length::from_metres(0.25);  // each side at most
    Length pitch = Length::from_metres(0.6);   // from one to the next
    int per_side = 6;
    Length below_deck = Length::from_mm(65);  // their top under the deck's
};

struct Boards {
    Length thickness = Length::from_mm(75);
    Stress bending = Stress::from_megapascals(12), shear = Stress::from_megapascals(1.2);
    Stress elasticity = Stress::from_megapascals(8600);
};

struct Chains {
    int count = 4;
    Mass limit = Mass::from_kg(5000);  // working load limit (lashing capacity) of each, as marked
};

struct LowBed {
    std::string name = "assumed low-bed";
    Mass empty_mass = Mass::from_tonnes(18.5);  // truck and trailer: the sum of `axles`
    Length length = Length::from_metres(16.5), width = Length::from_metres(2.55);
    Length height_empty = Length::from_metres(3.6);  // the truck's own cab
    Length deck_height = Length::from_metres(0.9);
    Mass max_load = Mass::from_tonnes(30);
    Mass axle_limit = Mass::from_tonnes(10);
    std::optional<std::string> base;  // place name or LAT,LON; empty running is routed from there
    /// To the pick-up and back from the drop, each, when no base is named.
    Length empty_run = Length::from_km(20);
    Speed empty_speed = Speed::from_kmh(65), loaded_speed = Speed::from_kmh(55);
    TruckAxles axles;
    Deck deck;
    Ramp ramp;
    Outriggers outriggers;
    Boards boards;
    Chains chains;
    bool assumed = true;
    /// Keys left out of the document, dotted ("deck.width_m"), where defaults stand.
    std::vector<std::string> assumed_keys;
    [[nodiscard]] VehicleView vehicle_empty() const;
    /// Loaded: own and machine mass, larger width, machine height on the deck and its cover. The heaviest
    /// axle is taken to grow evenly from 0.4 of the empty mass to the axle limit at full load (assumption).
    [[nodiscard]] VehicleView vehicle_loaded(const WorkingState& s) const;
};
/// Reads a low-bed document; every key may be left out, and the structs above state the defaults:
///   name, empty_kg, max_load_kg, axle_limit_kg, length_m, width_m, height_m, deck_height_m,
///   base or empty_run_km, [speed_kmh] empty, loaded
///   [axles] steer_kg, drive_kg (the trailer is the rest of empty_kg), wheelbase_m, kingpin_ahead_m,
///           trailer_centre_m, trailer_m, drive_count, drive_spacing_m, trailer_count, trailer_spacing_m,
///           steer_limit_kg, drive_limit_kg, trailer_limit_kg, kingpin_limit_kg
///   [deck]  width_m (default width_m), start_m, length_m, cover_mm
///   [ramp]  at = "rear|front", height_m (default deck_height_m), length_m, width_m, plank_mm, span_m,
///           above_deck_mm, head_on_beam
///   [outriggers] reach_m, pitch_m, per_side (0: none), below_deck_mm
///   [boards]     thickness_mm, bending_mpa, shear_mpa, elasticity_mpa
///   [chains]     count, limit_kg
[[nodiscard]] LowBed read_low_bed(const Value& document, const std::string& file);

}  // namespace loamway

#endif
