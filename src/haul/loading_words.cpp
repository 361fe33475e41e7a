// SPDX-License-Identifier: Apache-2.0
// The steps of a loading in words, and what holds for every one.
#include <fmt/format.h>

#include "loading_parts.h"

namespace loamway {
namespace {

std::string outrigger_step(const LoadingPlan& plan) {
    const LoadWords w = plan.words();
    return fmt::format(
        "pull out {} outriggers on each side, {} each; boards of {} on them, {} above the deck (0 to {} "
        "wanted, never below)",
        plan.outriggers_needed, w.small(plan.across.extension), w.small(plan.low_bed.boards.thickness),
        w.small(plan.board_above_deck), w.small_number(highest_board));
}

std::string climb_step(const LoadingPlan& plan) {
    const LoadWords w = plan.words();
    const RampCheck& r = plan.ramp;
    std::string out =
        fmt::format("drive up square and slowly, no steering; slope {:.1f} degrees", r.slope.degrees());
    if (r.see_saw)
        out += fmt::format(
            "; at the top it tips when {} of belt is past the edge and the front drops {} ({}): creep over, or "
            "lay a wedge behind the edge",
            w.size(r.see_saw->belt_beyond), w.size(r.see_saw->front_drop), w.energy(r.see_saw->energy));
    return out;
}

std::string place_step(const LoadingPlan& plan) {
    const LoadWords w = plan.words();
    const DeckPlace& p = plan.place;
    return fmt::format(
        "stop with the centre of mass {} behind the kingpin: {} end of the belts or wheels at {} (chalk mark "
        "{} behind the deck's front edge); allowed {}",
        w.size(p.centre), p.faces_rear ? "rear" : "front", w.size(p.stands_from),
        w.size(p.stands_from - plan.low_bed.deck.start), w.range(p.from, p.to));
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
    const LoadWords w = plan.words();
    std::vector<std::string> out;
    out.emplace_back("firm level ground, truck braked and straight, trailer supported as its maker says");
    if (plan.across.outriggers)
        out.push_back(outrigger_step(plan));
    out.push_back(fmt::format(
        "ramps at the {}: {} long to an edge {} high, {} over the ground, tops {} above {}{}",
        ramp.at_front ? "front, gooseneck off" : "rear", w.size(ramp.length), w.size(ramp.height),
        w.size(plan.ramp.run), w.small(ramp.above_deck), meets_deck(plan.low_bed) ? "the deck" : "that edge",
        ramp.head_on_beam && meets_deck(plan.low_bed) ? ", heads resting on the deck's cross beam" : ""));
    out.push_back(
        fmt::format("the heads carry {} a side when the machine tips over: bearing for that, not a "
                    "plank between bearers",
                    w.force(plan.ramp.edge_force)));
    out.push_back(fmt::format("every edge under a belt rounded to {} or covered with wood",
                              w.small(Length::from_mm(10))));
    out.push_back(climb_step(plan));
    if (plan.place.possible)
        out.push_back(place_step(plan));
    out.push_back(chain_step(plan));
    out.push_back(
        fmt::format("measure: {} high, {} wide, {} long, {} with the low-bed; "
                    "antennas, beacons and mirrors folded",
                    w.size(plan.loaded.height), w.size(plan.loaded.width), w.size(plan.loaded.length),
                    w.mass(plan.loaded.mass)));
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
