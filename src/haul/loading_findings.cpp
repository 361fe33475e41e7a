// SPDX-License-Identifier: Apache-2.0
// What stands in the way of a loading, or has to be looked at before it.
#include <fmt/format.h>

#include <algorithm>

#include "loading_parts.h"

namespace loamway {
namespace {

constexpr Length highest_board = Length::from_mm(15);  // above the deck (assumption)
constexpr double near_the_limit = 0.85;                // of what friction allows (assumption)

class Findings {
public:
    explicit Findings(const LoadingPlan& plan) : m_plan(plan) {}

    std::vector<Finding> find() {
        masses();
        across();
        outriggers();
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
                             fmt::format("the machine weighs {:.1f} t, the low-bed carries {:.1f} t",
                                         m_plan.state.mass.tonnes(), m_plan.low_bed.max_load.tonnes())});
    }

    void across() {
        const Across& a = m_plan.across;
        if (!a.centre_off_deck())
            return;
        add(Concern::stop,
            fmt::format(
                "the middles of the belts stand {:.2f} m off the deck on each side: boards and outriggers "
                "would carry {:.0f} kN a side, half the machine, and must be rated for it; take a wider deck",
                a.centre_from_edge.metres(), weight_of(m_plan.state.mass).kilonewtons() / 2));
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
                          "the deck has to be {:.0f} mm wider on each side and the low-bed has no outriggers",
                          a.extension.mm())
                    : fmt::format(
                          "the deck has to be {:.0f} mm wider on each side, the outriggers reach {:.0f} mm",
                          a.extension.mm(), o.reach.mm()));
        else if (o.per_side < m_plan.outriggers_needed)
            add(Concern::check,
                fmt::format("{} outriggers on each side, {} needed at a pitch of {:.2f} m under the "
                            "whole belt: place them where the belts stand or bring more",
                            o.per_side, m_plan.outriggers_needed, o.pitch.metres()));
        const Length above = m_plan.board_above_deck;
        if (above.mm() < -0.05)
            add(Concern::stop,
                fmt::format(
                    "boards of {:.0f} mm on outriggers {:.0f} mm below the deck lie {:.0f} mm too low: the "
                    "deck's edge would bear into the belts",
                    m_plan.low_bed.boards.thickness.mm(), o.below_deck.mm(), -above.mm()));
        else if (above > highest_board + Length::from_mm(0.05))
            add(Concern::check,
                fmt::format("boards on the outriggers lie {:.0f} mm above the deck, 0 to {:.0f} mm "
                            "wanted: the boards' edge would bear into the belts",
                            above.mm(), highest_board.mm()));
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
                fmt::format(
                    "the ramp's upper edge would touch between the axles: {:.2f} m clearance needed on a "
                    "wheelbase of {:.2f} m, {:.2f} m there",
                    r.clearance_needed->metres(), m_plan.machine.wheelbase.metres(),
                    m_plan.machine.ground_clearance.metres()));
    }

    void boards() {
        for (const BoardCheck& b : m_plan.boards)
            if (!b.holds())
                add(Concern::stop,
                    fmt::format(
                        "{}: {:.1f} MPa bending and {:.2f} MPa shear, {:.0f} and {:.1f} allowed; needs "
                        "{:.0f} mm instead of {:.0f}, or closer bearers",
                        b.what, b.stress.bending.megapascals(), b.stress.shear.megapascals(),
                        b.bending_allowed.megapascals(), b.shear_allowed.megapascals(), b.needed.mm() + 0.5,
                        b.plank.thickness.mm()));
    }

    void place() {
        const DeckPlace& p = m_plan.place;
        if (!p.axles.open()) {
            add(Concern::stop,
                fmt::format(
                    "nowhere on the deck: the {} limit wants the centre of mass at least {:.2f} m behind the "
                    "kingpin, the {} limit at most {:.2f} m",
                    name_of(p.axles.front), p.axles.from.metres(), name_of(p.axles.rear),
                    p.axles.to.metres()));
            return;
        }
        if (!p.possible) {
            add(Concern::stop,
                fmt::format(
                    "nowhere on the deck: the axles allow the centre of mass {:.2f} to {:.2f} m behind the "
                    "kingpin, the deck from {:.2f} to {:.2f} m does not hold the belts there",
                    p.axles.from.metres(), p.axles.to.metres(), m_plan.low_bed.deck.start.metres(),
                    m_plan.low_bed.deck.end().metres()));
            return;
        }
        const Length over_front = m_plan.low_bed.deck.start - p.machine_from;
        const Length over_rear = p.machine_to - m_plan.low_bed.deck.end();
        if (over_front.metres() > 0.005)
            add(Concern::check,
                fmt::format("the machine reaches {:.2f} m over the gooseneck: look whether it clears "
                            "it, also when the truck turns and over a crest",
                            over_front.metres()));
        if (over_rear.metres() > 0.005)
            add(Concern::check,
                fmt::format("the machine reaches {:.2f} m beyond the deck's rear: mark it, look at "
                            "what it clears over a dip",
                            over_rear.metres()));
    }

    void tie_downs() {
        const TieDowns& t = m_plan.tie_downs;
        const Chains& c = m_plan.low_bed.chains;
        if (m_plan.securing != SecuringRules::en && (c.count < t.count_us || !t.strength.enough()))
            add(Concern::check,
                fmt::format("{} chains of {:.0f} kg: {} needed after 49 CFR 393 (second-hand)", c.count,
                            c.limit.kg(), t.count_us));
        if (m_plan.securing != SecuringRules::en && !t.strength.each_enough)
            add(Concern::check,
                fmt::format("a chain of {:.0f} kg is below the 5000 lb (2268 kg) asked of each",
                            c.limit.kg()));
        if (m_plan.securing == SecuringRules::us)
            return;
        const Force worst = std::max({t.forward_dry, t.rearward_dry, t.sideways_dry});
        if (worst > t.chain_limit || c.count < 4)
            add(Concern::check,
                fmt::format(
                    "{} chains of {:.0f} kN: 4 needed, two holding each way, {:.0f} kN each on clean dry "
                    "boards (equation of EN 12195-1, from memory)",
                    c.count, t.chain_limit.kilonewtons(), worst.kilonewtons()));
        else if (t.forward_slippery > t.chain_limit)
            add(Concern::check,
                fmt::format(
                    "wet or powdered, each of the two chains holding forward needs {:.0f} kN, {:.0f} kN there: "
                    "block in front or add chains",
                    t.forward_slippery.kilonewtons(), t.chain_limit.kilonewtons()));
    }

    void what_stays() {
        if (m_plan.state.towed > Mass())
            add(Concern::check,
                fmt::format("what it tows ({:.1f} t, {:.1f} m) does not ride along: it needs its own "
                            "trip or stays",
                            m_plan.state.towed.tonnes(), m_plan.state.towed_length.metres()));
    }

    const LoadingPlan& m_plan;
    std::vector<Finding> m_out;
};

}  // namespace

std::vector<Finding> loading_findings(const LoadingPlan& plan) {
    return Findings(plan).find();
}

}  // namespace loamway
