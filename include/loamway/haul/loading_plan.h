// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_HAUL_LOADING_PLAN_H
#define LOAMWAY_HAUL_LOADING_PLAN_H

// How one machine goes onto one low-bed without hurting belts or people: across the deck, up the ramp, where
// it stands, what the boards carry, how it is tied down, how high and wide the load is. Figures from the
// two profiles; what they leave out is assumed and listed. A pure function; the plan is an estimate beside
// which the makers' manuals and the person who loads decide.

#include <optional>
#include <string>
#include <vector>

#include "loamway/haul/load_words.h"
#include "loamway/haul/loading_geometry.h"
#include "loamway/haul/rule_findings.h"
#include "loamway/haul/securing.h"
#include "loamway/text/value.h"

namespace loamway {

struct LoadingInputs {
    Machine machine;
    std::string state;  // empty: the machine's first
    LowBed low_bed;
    Recipe recipe;
    std::optional<LimitsTable> limits;  // none: only the recipe's thresholds are compared
    bool slippery = false;              // boards or belts wet, muddy, frozen or freshly powdered
};

/// A plank or board under a load, and what it would have to be.
struct BoardCheck {
    std::string what;  // "ramp plank under a roller axle"
    Plank plank;
    Force load;
    PlankLoad stress;
    Stress bending_allowed, shear_allowed;
    Length needed;  // thickness
    [[nodiscard]] bool holds() const {
        return stress.bending <= bending_allowed && stress.shear <= shear_allowed;
    }
};

/// Where the machine stands, behind the kingpin. It faces the truck unless it climbs over the front.
struct DeckPlace {
    bool faces_rear = false;
    DeckWindow axles;                 // what the axle limits allow
    Length from, to;                  // with the ends of the deck as well; from > to: nowhere
    Length centre;                    // centre of mass, the chalk mark
    Length stands_from, stands_to;    // what touches the deck
    Length machine_from, machine_to;  // the whole machine
    bool possible = true;
};

struct RampCheck {
    Angle slope;
    Length run, length;
    double friction_needed = 0, friction = 0;  // there: as the boards are now
    Angle steepest_dry, steepest_slippery;
    Angle approach, departure;               // what the overhangs pass
    std::optional<SeeSaw> see_saw;           // one pair of straight belts
    std::optional<Length> clearance_needed;  // between axle groups
    Force edge_force;                        // on the ramp's upper edge, each side
};

struct TieDowns {
    int count_us = 0;     // least number by 49 CFR 393 with this chain
    UsStrength strength;  // of the chains there are
    Force chain_limit;
    Force forward_dry, forward_slippery, rearward_dry, sideways_dry;  // on each of two chains
};

struct LoadingPlan {
    Machine machine;
    WorkingState state;
    LowBed low_bed;
    std::vector<std::string> assumed;  // keys of both profiles that were left out
    std::string units = "metric";      // of the sentences, as in Recipe::units
    std::string limits_title;          // empty: no table compared
    SecuringRules securing = SecuringRules::both;
    Across across;
    int outriggers_needed = 0;  // a side; zero: none
    Length board_above_deck;    // of the boards on the outriggers
    std::vector<BoardCheck> boards;
    RampCheck ramp;
    DeckPlace place;
    LoadedLowBed loaded;
    TieDowns tie_downs;
    std::vector<Finding> findings;   // of loading, stops first; then those of rules
    bool over_a_limit = false;       // among those of rules
    std::vector<std::string> edges;  // to round or to cover with wood
    std::vector<std::string> steps;  // in the order they are done
    std::vector<std::string> cautions;
    /// No stop among the findings: it can be loaded as described, once the checks are answered.
    [[nodiscard]] bool can_be_done() const;
    [[nodiscard]] LoadWords words() const { return LoadWords(units); }
};

[[nodiscard]] LoadingPlan make_loading_plan(const LoadingInputs& inputs);

/// The thickness a board needs as it is said: up to whole millimetres.
[[nodiscard]] inline Length rounded_up(Length needed) {
    return needed + Length::from_mm(0.5);
}

/// What holds for every loading, most urgent first. Common practice, no source.
[[nodiscard]] std::vector<std::string> loading_cautions();

/// Schema "loamway.load/1", described in src/plan/METHODS.md; metres, kg, kN, MPa, degrees whatever
/// the units of its sentences.
[[nodiscard]] Value loading_plan_to_json(const LoadingPlan& plan);

}  // namespace loamway

#endif
