// SPDX-License-Identifier: Apache-2.0
// The steps of a loading in words, and what holds for every one.
#include <fmt/format.h>

#include "loading_parts.h"

namespace loamway {
namespace {

std::string outrigger_step(const LoadingPlan& plan) {
    return fmt::format(
        "pull out {} outriggers on each side, {:.0f} mm each; boards of {:.0f} mm on them, {:.0f} mm "
        "above the deck (0 to 15 wanted, never below)",
        plan.outriggers_needed, plan.across.extension.mm(), plan.low_bed.boards.thickness.mm(),
        plan.board_above_deck.mm());
}

std::string climb_step(const LoadingPlan& plan) {
    const RampCheck& r = plan.ramp;
    std::string out =
        fmt::format("drive up square and slowly, no steering; slope {:.1f} degrees", r.slope.degrees());
    if (r.see_saw)
        out += fmt::format(
            "; at the top it tips when {:.2f} m of belt is past the edge and the front drops {:.2f} m "
            "({:.1f} kJ): creep over, or lay a wedge behind the edge",
            r.see_saw->belt_beyond.metres(), r.see_saw->front_drop.metres(), r.see_saw->energy.kilojoules());
    return out;
}

std::string place_step(const LoadingPlan& plan) {
    const DeckPlace& p = plan.place;
    return fmt::format(
        "stop with the centre of mass {:.2f} m behind the kingpin: {} end of the belts or wheels at "
        "{:.2f} m (chalk mark {:.2f} m behind the deck's front edge); allowed {:.2f} to {:.2f} m",
        p.centre.metres(), p.faces_rear ? "rear" : "front", p.stands_from.metres(),
        (p.stands_from - plan.low_bed.deck.start).metres(), p.from.metres(), p.to.metres());
}

std::string chain_step(const LoadingPlan& plan) {
    const int count = std::max(plan.tie_downs.count_us, 4);
    const int shown = plan.securing == SecuringRules::en ? 4 : count;
    return fmt::format(
        "brake on, engine off, accessories lowered and secured{}; {} chains from the maker's points, two "
        "forward and two rearward at least, about 35 degrees up and 25 degrees out; never across a "
        "belt or its edge",
        plan.machine.steering == Steering::articulated ? ", articulation locked" : "", shown);
}

}  // namespace

std::vector<std::string> edges_to_cover(const LoadingPlan& plan) {
    std::vector<std::string> out;
    out.emplace_back("upper end of each ramp and the deck's edge behind it");
    if (plan.across.outriggers) {
        if (plan.across.share_on_deck > 0 && plan.across.share_on_deck < 1)
            out.emplace_back("side edges of the deck, which run under the belts");
        out.emplace_back("outriggers and the ends of the boards on them");
    }
    if ((plan.place.stands_from - plan.low_bed.deck.start).metres() < 0.3)
        out.emplace_back("foot of the gooseneck, close to the belts");
    return out;
}

std::vector<std::string> loading_steps(const LoadingPlan& plan) {
    const Ramp& ramp = plan.low_bed.ramp;
    std::vector<std::string> out;
    out.emplace_back("firm level ground, truck braked and straight, trailer supported as its maker says");
    if (plan.across.outriggers)
        out.push_back(outrigger_step(plan));
    out.push_back(
        fmt::format("ramps at the {}: {:.2f} m long to an edge {:.2f} m high, {:.2f} m over the ground, "
                    "tops {:.0f} mm above the deck{}",
                    ramp.at_front ? "front, gooseneck off" : "rear", ramp.length.metres(),
                    ramp.height.metres(), plan.ramp.run.metres(), ramp.above_deck.mm(),
                    ramp.head_on_beam ? ", heads resting on the deck's cross beam" : ""));
    out.push_back(
        fmt::format("the heads carry {:.0f} kN a side when the machine tips over: bearing for that, not a "
                    "plank between bearers",
                    plan.ramp.edge_force.kilonewtons()));
    out.emplace_back("every edge under a belt rounded to 10 mm or covered with wood");
    out.push_back(climb_step(plan));
    if (plan.place.possible)
        out.push_back(place_step(plan));
    out.push_back(chain_step(plan));
    out.push_back(
        fmt::format("measure: {:.2f} m high, {:.2f} m wide, {:.2f} m long, {:.1f} t with the low-bed; "
                    "antennas, beacons and mirrors folded",
                    plan.loaded.height.metres(), plan.loaded.width.metres(), plan.loaded.length.metres(),
                    plan.loaded.mass.tonnes()));
    return out;
}

// Common practice, no source.
std::vector<std::string> loading_cautions() {
    return {
        "Nobody beside or behind the machine or the ramp while it moves; a spotter in the driver's sight, agreed "
        "signs, stop when he is out of sight.",
        "Firm, level ground; no steering on ramp or deck.",
        "Belts and boards swept, dry and free of frost and mud; no powder on the belts before the ramp.",
        "Reject planks with splits, knots through them or grain across.",
        "Chains never across a belt or its edges; look at them after the first kilometres.",
        "An estimate from two profiles: scales, tape, the makers' manuals and plates, the local code and the person "
        "who loads decide.",
    };
}

}  // namespace loamway
