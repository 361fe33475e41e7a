// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/loading_plan.h"

#include <algorithm>
#include <cmath>

#include "loading_parts.h"

namespace loamway {
namespace {

constexpr int fewest_rollers = 2;

/// What of `inner` lies within `outer`; false when nothing does.
bool cut(Length& from, Length& to, Length outer_from, Length outer_to) {
    const Length a = std::max(from, outer_from), b = std::min(to, outer_to);
    if (a > b)
        return false;
    from = a;
    to = b;
    return true;
}

BoardCheck board(std::string what, const Plank& plank, Force load, const LoadingPlan& plan) {
    BoardCheck b{std::move(what),           plank, load, plank_load(plank, load), plan.low_bed.boards.bending,
                 plan.low_bed.boards.shear, {}};
    b.needed = plank_thickness(plank.span, plank.width, load, b.bending_allowed, b.shear_allowed);
    return b;
}

void take_profiles(const LoadingInputs& in, LoadingPlan& plan) {
    plan.machine = in.machine;
    plan.state = in.machine.state(in.state);
    plan.low_bed = in.low_bed;
    for (const std::string& key : in.machine.assumed_for_loading)
        plan.assumed.push_back("machine " + key);
    if (in.low_bed.assumed)
        plan.assumed.emplace_back("the whole low-bed");
    for (const std::string& key : in.low_bed.assumed_keys)
        plan.assumed.push_back("low-bed " + key);
    plan.units = in.recipe.units;
    if (in.limits) {
        plan.limits_title = in.limits->title;
        plan.securing = in.limits->securing;
    }
}

void measure_across(LoadingPlan& plan) {
    plan.across = across_deck(plan.machine.belts.gauge, plan.machine.belts.width, plan.low_bed.deck.width);
    if (plan.across.outriggers) {
        // Each belt stands on its own row of them.
        const auto pairs = std::count(plan.state.tracked.begin(), plan.state.tracked.end(), true);
        plan.outriggers_needed = static_cast<int>(pairs) * outriggers_per_side(plan.machine.belts.ground_run,
                                                                               plan.low_bed.outriggers.pitch);
    }
    plan.board_above_deck = plan.low_bed.boards.thickness - plan.low_bed.outriggers.below_deck;
}

}  // namespace

RampCheck check_ramp(const LoadingPlan& plan, bool slippery) {
    const Ramp& ramp = plan.low_bed.ramp;
    const WorkingState& s = plan.state;
    RampCheck r;
    r.slope = ramp_angle(ramp.height, ramp.above_deck, ramp.length);
    r.length = ramp.length;
    r.run = ramp_run(ramp.height, ramp.above_deck, r.slope);
    r.friction_needed = friction_needed(r.slope);
    r.friction = slippery ? friction_slippery : friction_dry;
    r.steepest_dry = steepest(friction_dry);
    r.steepest_slippery = steepest(friction_slippery);
    const Length standing = plan.machine.standing_length(s);
    const Length rear_overhang = s.length - s.front_overhang - standing;
    r.approach = approach_angle(s.front_clearance, s.front_overhang);
    r.departure = approach_angle(s.rear_clearance, std::max(Length(), rear_overhang));
    if (one_pair_of_belts(plan))
        r.see_saw = see_saw(s.mass, s.centre_height, s.centre_behind, standing - s.centre_behind, r.slope);
    else
        r.clearance_needed = break_over_clearance(plan.machine.wheelbase, r.slope);
    r.edge_force = weight_of(heaviest_pair(plan)) * (0.5 * dynamic_factor);
    return r;
}

DeckPlace place_on_deck(const LoadingPlan& plan) {
    const LowBed& bed = plan.low_bed;
    const WorkingState& s = plan.state;
    const Length standing = plan.machine.standing_length(s);
    const Length rear_overhang = s.length - s.front_overhang - standing;
    DeckPlace p;
    p.faces_rear = bed.ramp.at_front;
    // From the centre of mass toward the truck and toward the rear: what stands, and the whole machine.
    const Length to_front = p.faces_rear ? standing - s.centre_behind : s.centre_behind;
    const Length to_rear = standing - to_front;
    const Length ahead = to_front + (p.faces_rear ? rear_overhang : s.front_overhang);
    const Length behind = to_rear + (p.faces_rear ? s.front_overhang : rear_overhang);

    p.axles = deck_window(bed.axles, s.mass);
    p.from = p.axles.from;
    p.to = p.axles.to;
    p.possible = p.axles.open() && cut(p.from, p.to, bed.deck.start + to_front, bed.deck.end() - to_rear);
    if (p.possible) {
        // Keep the whole machine over the deck where the axles allow it.
        Length a = p.from, b = p.to;
        const bool whole = cut(a, b, bed.deck.start + ahead, bed.deck.end() - behind);
        p.centre = whole ? best_place(bed.axles, s.mass, a, b) : best_place(bed.axles, s.mass, p.from, p.to);
    } else {
        // For the picture only: the middle of the deck.
        p.centre = bed.deck.start + (bed.deck.length - standing) * 0.5 + to_front;
    }
    p.stands_from = p.centre - to_front;
    p.stands_to = p.centre + to_rear;
    p.machine_from = p.centre - ahead;
    p.machine_to = p.centre + behind;
    return p;
}

std::vector<BoardCheck> check_boards(const LoadingPlan& plan) {
    const LowBed& bed = plan.low_bed;
    const BeltGeometry& belts = plan.machine.belts;
    const Force roller = roller_force(heaviest_pair(plan), std::max(fewest_rollers, belts.mid_rollers));
    const Length ramp_width = std::min(bed.ramp.width, belts.width);
    std::vector<BoardCheck> out;
    out.push_back(board("ramp plank under one roller axle",
                        {bed.ramp.span, ramp_width, bed.ramp.plank, bed.boards.elasticity}, roller, plan));
    if (!bed.ramp.head_on_beam)
        out.push_back(board("ramp plank at the upper edge, which carries half a machine as it tips over",
                            {bed.ramp.span, ramp_width, bed.ramp.plank, bed.boards.elasticity},
                            plan.ramp.edge_force, plan));
    if (plan.across.outriggers) {
        // The part of a belt's width beyond the deck; all of it where its middle is off the deck.
        const double share = plan.across.centre_off_deck() ? 1.0 : 1.0 - plan.across.share_on_deck;
        const Length width = std::min(plan.across.extension, belts.width);
        if (share > 0)
            out.push_back(board("board on the outriggers under one roller axle",
                                {bed.outriggers.pitch, width, bed.boards.thickness, bed.boards.elasticity},
                                roller * share, plan));
    }
    return out;
}

LoadedLowBed loaded_size(const LoadingPlan& plan) {
    const LowBed& bed = plan.low_bed;
    LoadedLowBed l;
    l.width = std::max({bed.width, plan.state.width, plan.across.outer_width});
    if (plan.across.outriggers)
        l.width = std::max(l.width, bed.deck.width + plan.across.extension * 2);
    const Length under_belts =
        plan.across.outriggers ? std::max(bed.deck.cover, plan.board_above_deck) : bed.deck.cover;
    l.height = std::max(bed.height_empty, bed.deck_height + under_belts + plan.state.height);
    const Length beyond = std::max(Length(), plan.place.machine_to - bed.deck.end());
    l.length = bed.length + beyond;
    l.kingpin_to_rear = bed.deck.end();
    l.mass = bed.empty_mass + plan.state.mass;
    l.axles = bed.axles;
    l.loads = axle_loads(bed.axles, plan.state.mass, plan.place.centre);
    return l;
}

TieDowns check_tie_downs(const LoadingPlan& plan) {
    const Article a{plan.state.length, plan.state.mass, false, true};
    const Chains& chains = plan.low_bed.chains;
    TieDowns t;
    t.count_us = us_tiedowns_needed(a, chains.limit, TieDownRun::direct);
    t.strength = us_strength(a, chains.count, chains.limit, TieDownRun::direct);
    t.chain_limit = weight_of(chains.limit);
    DirectLashing l;
    l.friction = friction_dry;
    t.forward_dry = direct_lashing_force(a.mass, Push::forward, l);
    t.rearward_dry = direct_lashing_force(a.mass, Push::rearward, l);
    l.friction = friction_slippery;
    t.forward_slippery = direct_lashing_force(a.mass, Push::forward, l);
    // Sideways the same chains pull across: 90 degrees less 25.
    l.friction = friction_dry;
    l.aside = Angle::from_degrees(65);
    t.sideways_dry = direct_lashing_force(a.mass, Push::sideways, l);
    return t;
}

bool LoadingPlan::can_be_done() const {
    return std::none_of(findings.begin(), findings.end(),
                        [](const Finding& f) { return f.concern == Concern::stop; });
}

LoadingPlan make_loading_plan(const LoadingInputs& in) {
    LoadingPlan plan;
    take_profiles(in, plan);
    measure_across(plan);
    plan.ramp = check_ramp(plan, in.slippery);
    plan.place = place_on_deck(plan);
    plan.boards = check_boards(plan);
    plan.loaded = loaded_size(plan);
    plan.tie_downs = check_tie_downs(plan);
    plan.findings = loading_findings(plan);
    for (Finding& f : low_bed_findings(plan.loaded, in.limits ? &*in.limits : nullptr, in.recipe)) {
        plan.over_a_limit = plan.over_a_limit || f.concern != Concern::note;
        plan.findings.push_back(std::move(f));
    }
    plan.edges = edges_to_cover(plan);
    plan.steps = loading_steps(plan);
    plan.cautions = loading_cautions();
    return plan;
}

}  // namespace loamway
