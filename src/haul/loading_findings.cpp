// SPDX-License-Identifier: Apache-2.0
// What stands in the way of a loading, or has to be looked at before it.
#include <fmt/format.h>

#include <algorithm>

#include "loading_parts.h"

namespace loamway {
namespace {

constexpr double near_the_limit = 0.85;  // of what friction allows (assumption)

class Findings {
public:
    explicit Findings(const LoadingPlan& plan) : m_plan(plan), w(plan.words()) {}

    std::vector<Finding> find() {
        masses();
        across();
        outriggers();
        ramp_head();
        slope();
        overhangs();
        boards();
        place();
        tie_downs();
        what_stays();
        std::stable_sort(m_out.begin(), m_out.end(),
                         [](const Finding& a, const Finding& b) { return a.concern > b.concern; });
        return std::move(m_out);
    }

private:
    void add(Concern c, std::string text) { m_out.push_back({"loading", c, std::move(text)}); }

    void masses() {
        if (m_plan.state.mass > m_plan.low_bed.max_load)
            m_out.push_back({"overload", Concern::stop,
                             fmt::format("the machine weighs {}, the low-bed carries {}",
                                         w.mass(m_plan.state.mass), w.mass(m_plan.low_bed.max_load))});
    }

    void across() {
        const Across& a = m_plan.across;
        if (!a.centre_off_deck())
            return;
        add(Concern::stop,
            fmt::format(
                "the middles of the belts stand {} off the deck on each side: boards and outriggers "
                "would carry {} a side, half the machine, and must be rated for it; take a wider deck",
                w.size(a.centre_from_edge), w.force(weight_of(m_plan.state.mass) * 0.5)));
    }

    void outriggers() {
        const Across& a = m_plan.across;
        const Outriggers& o = m_plan.low_bed.outriggers;
        if (!a.outriggers)
            return;
        if (o.per_side == 0 || a.extension > o.reach)
            add(Concern::stop,
                o.per_side == 0
                    ? fmt::format(
                          "the deck has to be {} wider on each side and the low-bed has no outriggers",
                          w.small(a.extension))
                    : fmt::format("the deck has to be {} wider on each side, the outriggers reach {}",
                                  w.small(a.extension), w.small(o.reach)));
        else if (o.per_side < m_plan.outriggers_needed)
            add(Concern::check,
                fmt::format("{} outriggers on each side, {} needed at a pitch of {} under the "
                            "whole belt: place them where the belts stand or bring more",
                            o.per_side, m_plan.outriggers_needed, w.size(o.pitch)));
        const Length above = m_plan.board_above_deck;
        if (above.mm() < -0.05)
            add(Concern::stop, fmt::format("boards of {} on outriggers {} below the deck lie {} too low: the "
                                           "deck's edge would bear into the belts",
                                           w.small(m_plan.low_bed.boards.thickness), w.small(o.below_deck),
                                           w.small(above * -1)));
        else if (above > highest_board + Length::from_mm(0.05))
            add(Concern::check, fmt::format("boards on the outriggers lie {} above the deck, 0 to {} "
                                            "wanted: the boards' edge would bear into the belts",
                                            w.small(above), w.small(highest_board)));
    }

    void ramp_head() {
        const LowBed& bed = m_plan.low_bed;
        if (meets_deck(bed))
            return;
        const bool below = bed.ramp.height < bed.deck_height;
        add(Concern::check,
            fmt::format(
                "the ramps lead to an edge {} high, {} {} the deck ({}): correct height_m of [ramp] or "
                "deck_height_m, or look at how the machine gets over that step",
                w.size(bed.ramp.height),
                w.small((below ? bed.deck_height - bed.ramp.height : bed.ramp.height - bed.deck_height)),
                below ? "below" : "above", w.size(bed.deck_height)));
    }

    void slope() {
        const RampCheck& r = m_plan.ramp;
        const auto needed = [&r](std::string_view boards, Angle steepest) {
            return fmt::format(
                "ramp of {:.1f} degrees: needs a friction of {:.2f}; {} boards and belts carry up to "
                "{:.1f} degrees",
                r.slope.degrees(), r.friction_needed, boards, steepest.degrees());
        };
        if (r.friction_needed > r.friction)
            add(Concern::stop,
                needed(r.friction < friction_dry ? "wet or powdered" : "clean dry", steepest(r.friction)));
        else if (r.friction_needed > friction_slippery * near_the_limit)
            add(Concern::check, needed("wet or powdered", r.steepest_slippery) +
                                    ": no powder before the ramp, boards dry and swept");
        if (r.see_saw && !r.see_saw->stays_on_ramp)
            add(Concern::stop,
                fmt::format("on a ramp of {:.1f} degrees the centre of mass is behind the belts: the "
                            "machine would tip backward",
                            r.slope.degrees()));
    }

    void overhangs() {
        const RampCheck& r = m_plan.ramp;
        const auto strikes = [&](const char* what, Angle passes) {
            if (passes < r.slope)
                add(Concern::stop,
                    fmt::format("the {} passes {:.1f} degrees, the ramp has {:.1f}: longer ramps, a "
                                "wedge at the foot, or take it off",
                                what, passes.degrees(), r.slope.degrees()));
        };
        strikes("front overhang", r.approach);
        strikes("rear overhang", r.departure);
        if (r.clearance_needed && *r.clearance_needed > m_plan.machine.ground_clearance)
            add(Concern::stop,
                fmt::format("the ramp's upper edge would touch between the axles: {} clearance needed on a "
                            "wheelbase of {}, {} there",
                            w.size(*r.clearance_needed), w.size(m_plan.machine.wheelbase),
                            w.size(m_plan.machine.ground_clearance)));
    }

    void boards() {
        for (const BoardCheck& b : m_plan.boards)
            if (!b.holds())
                add(Concern::stop,
                    fmt::format(
                        "{}: {} bending and {} shear, {} and {} allowed; needs {} instead of {}, or closer bearers",
                        b.what, w.stress(b.stress.bending, 1), w.stress(b.stress.shear, 2),
                        w.stress_number(b.bending_allowed, 0), w.stress_number(b.shear_allowed, 1),
                        w.small(rounded_up(b.needed)), w.small_number(b.plank.thickness)));
    }

    void place() {
        const DeckPlace& p = m_plan.place;
        if (!p.axles.open()) {
            add(Concern::stop,
                fmt::format(
                    "nowhere on the deck: the {} limit wants the centre of mass at least {} behind the "
                    "kingpin, the {} limit at most {}",
                    name_of(p.axles.front), w.size(p.axles.from), name_of(p.axles.rear), w.size(p.axles.to)));
            return;
        }
        if (!p.possible) {
            add(Concern::stop,
                fmt::format("nowhere on the deck: the axles allow the centre of mass {} behind the "
                            "kingpin, the deck from {} does not hold the belts there",
                            w.range(p.axles.from, p.axles.to),
                            w.range(m_plan.low_bed.deck.start, m_plan.low_bed.deck.end())));
            return;
        }
        const Length over_front = m_plan.low_bed.deck.start - p.machine_from;
        const Length over_rear = p.machine_to - m_plan.low_bed.deck.end();
        if (over_front.metres() > 0.005)
            add(Concern::check,
                fmt::format("the machine reaches {} over the gooseneck: look whether it clears "
                            "it, also when the truck turns and over a crest",
                            w.size(over_front)));
        if (over_rear.metres() > 0.005)
            add(Concern::check, fmt::format("the machine reaches {} beyond the deck's rear: mark it, look at "
                                            "what it clears over a dip",
                                            w.size(over_rear)));
    }

    void tie_downs() {
        const TieDowns& t = m_plan.tie_downs;
        const Chains& c = m_plan.low_bed.chains;
        if (m_plan.securing != SecuringRules::en && (c.count < t.count_us || !t.strength.enough()))
            add(Concern::check, fmt::format("{} chains of {}: {} needed after 49 CFR 393 (second-hand)",
                                            c.count, w.chain(c.limit), t.count_us));
        if (m_plan.securing != SecuringRules::en && !t.strength.each_enough)
            add(Concern::check,
                fmt::format("a chain of {} is below the 5000 lb (2268 kg) asked of each", w.chain(c.limit)));
        if (m_plan.securing == SecuringRules::us)
            return;
        const Force worst = std::max({t.forward_dry, t.rearward_dry, t.sideways_dry});
        if (worst > t.chain_limit || c.count < 4)
            add(Concern::check,
                fmt::format("{} chains of {}: 4 needed, two holding each way, {} each on clean dry "
                            "boards (equation of EN 12195-1, from memory)",
                            c.count, w.force(t.chain_limit), w.force(worst)));
        else if (t.forward_slippery > t.chain_limit)
            add(Concern::check,
                fmt::format("wet or powdered, each of the two chains holding forward needs {}, {} there: "
                            "block in front or add chains",
                            w.force(t.forward_slippery), w.force(t.chain_limit)));
    }

    void what_stays() {
        if (m_plan.state.towed > Mass())
            add(Concern::check, fmt::format("what it tows ({}, {}) does not ride along: it needs its own "
                                            "trip or stays",
                                            w.mass(m_plan.state.towed), w.size(m_plan.state.towed_length)));
    }

    const LoadingPlan& m_plan;
    LoadWords w;  // named shortly: most lines below use it
    std::vector<Finding> m_out;
};

}  // namespace

std::vector<Finding> loading_findings(const LoadingPlan& plan) {
    return Findings(plan).find();
}

}  // namespace loamway
