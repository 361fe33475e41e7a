// SPDX-License-Identifier: Apache-2.0
// The loading plan as text: read from the top, done from the top.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "layout.h"
#include "loamway/base/names.h"
#include "loamway/report/load_report.h"

namespace loamway {
namespace {

class LoadText {
public:
    LoadText(const LoadingPlan& plan, const TextStyle& style)
        : m_plan(plan), m_marks(style.colour), m_width(std::max<std::size_t>(36, style.width)) {}

    std::string make() {
        head();
        findings("Stop", Concern::stop);
        findings("Look at", Concern::check);
        steps();
        edges();
        figures();
        findings("Also", Concern::note);
        if (!m_plan.assumed.empty()) {
            heading("Assumed");
            m_out += wrapped("  ", printable(fmt::format("{}", fmt::join(m_plan.assumed, ", "))), m_width);
        }
        heading("Cautions");
        for (const std::string& c : m_plan.cautions)
            item(c);
        return std::move(m_out);
    }

private:
    void heading(std::string_view text) { m_out += fmt::format("\n{}\n", m_marks.bold(text)); }
    void item(std::string_view text) { m_out += wrapped("  - ", printable(text), m_width); }
    void figure(std::string_view name, const std::string& text) {
        m_out += wrapped("  " + pad_right(name, 14), text, m_width);
    }

    void head() {
        const auto checks = std::count_if(m_plan.findings.begin(), m_plan.findings.end(),
                                          [](const Finding& f) { return f.concern == Concern::check; });
        const std::string first = !m_plan.can_be_done() ? "Do not load it like this."
                                  : checks > 0 ? fmt::format("Can be loaded once {} {} looked at.", checks,
                                                             checks == 1 ? "thing is" : "things are")
                                               : std::string("Can be loaded as below.");
        m_out += m_marks.bold(wrapped("", first, m_width));
        m_out +=
            wrapped("",
                    printable(fmt::format("{}, {}: {:.1f} t on {}", m_plan.machine.name, m_plan.state.name,
                                          m_plan.state.mass.tonnes(), m_plan.low_bed.name)),
                    m_width);
        m_out += wrapped("",
                         m_plan.limits_title.empty()
                             ? std::string("No table of limits compared: name a region or --limits.")
                             : printable(fmt::format("Limits: {}.", m_plan.limits_title)),
                         m_width);
    }

    void findings(std::string_view title, Concern concern) {
        bool any = false;
        for (const Finding& f : m_plan.findings) {
            if (f.concern != concern)
                continue;
            if (!any)
                heading(title);
            any = true;
            item(f.text);
        }
    }

    void steps() {
        if (!m_plan.can_be_done())
            return;
        heading("In this order");
        for (const std::string& step : m_plan.steps)
            m_out += wrapped("  [ ] ", printable(step), m_width);
    }

    void edges() {
        heading("Round or cover with wood");
        for (const std::string& edge : m_plan.edges)
            m_out += wrapped("  [ ] ", printable(edge), m_width);
    }

    void figures() {
        heading("Figures");
        across();
        ramp();
        boards();
        place();
        figure("loaded",
               fmt::format("{:.2f} m high (add 0.10 m for bounce under a bridge), {:.2f} m wide, {:.2f} m "
                           "long, {:.1f} t",
                           m_plan.loaded.height.metres(), m_plan.loaded.width.metres(),
                           m_plan.loaded.length.metres(), m_plan.loaded.mass.tonnes()));
        chains();
    }

    void across() {
        const Across& a = m_plan.across;
        std::string text =
            fmt::format("belts {:.2f} m over all on a deck of {:.2f} m; {:.0f} % of each belt on it",
                        a.outer_width.metres(), m_plan.low_bed.deck.width.metres(), 100 * a.share_on_deck);
        text += a.outriggers ? fmt::format("; {:.0f} mm wider on each side, {} outriggers a side",
                                           a.extension.mm(), m_plan.outriggers_needed)
                             : "; no outriggers needed";
        figure("across", text);
    }

    void ramp() {
        const RampCheck& r = m_plan.ramp;
        figure("ramp",
               fmt::format("{:.1f} degrees, {:.2f} m long, {:.2f} m over the ground; friction {:.2f} needed; "
                           "clean dry up to {:.0f}, wet or powdered up to {:.0f} degrees",
                           r.slope.degrees(), r.length.metres(), r.run.metres(), r.friction_needed,
                           r.steepest_dry.degrees(), r.steepest_slippery.degrees()));
        if (r.see_saw)
            figure("ramp top",
                   fmt::format("tips {:.2f} m past the edge, front drops {:.2f} m, {:.1f} kJ, {:.0f} kN on "
                               "one edge a side",
                               r.see_saw->past_edge.metres(), r.see_saw->front_drop.metres(),
                               r.see_saw->energy.kilojoules(), r.edge_force.kilonewtons()));
        if (r.clearance_needed)
            figure("ramp top",
                   fmt::format("{:.2f} m clearance between the axles needed, {:.2f} m there",
                               r.clearance_needed->metres(), m_plan.machine.ground_clearance.metres()));
        figure("overhangs", fmt::format("front passes {:.0f}, rear {:.0f} degrees", r.approach.degrees(),
                                        r.departure.degrees()));
    }

    void boards() {
        for (const BoardCheck& b : m_plan.boards)
            figure(
                "board",
                fmt::format("{}: {:.1f} kN, {:.1f} of {:.0f} MPa, bends {:.1f} mm; {:.0f} mm there, {:.0f} "
                            "mm needed",
                            b.what, b.load.kilonewtons(), b.stress.bending.megapascals(),
                            b.bending_allowed.megapascals(), b.stress.deflection.mm(), b.plank.thickness.mm(),
                            b.needed.mm() + 0.5));
    }

    void place() {
        const DeckPlace& p = m_plan.place;
        if (!p.possible)
            return;
        const AxleLoads& l = m_plan.loaded.loads;
        figure("mark", fmt::format("centre of mass {:.2f} m behind the kingpin, allowed {:.2f} to {:.2f} m",
                                   p.centre.metres(), p.from.metres(), p.to.metres()));
        const TruckAxles& a = m_plan.low_bed.axles;
        figure(
            "axles",
            fmt::format("steering {:.1f} of {:.1f} t, driven {:.1f} of {:.1f} t, trailer {:.1f} of {:.1f} t, "
                        "kingpin {:.1f} of {:.1f} t",
                        l.steer.tonnes(), a.steer_limit.tonnes(), l.drive.tonnes(), a.drive_limit.tonnes(),
                        l.trailer.tonnes(), a.trailer_limit.tonnes(), l.kingpin.tonnes(),
                        a.kingpin_limit.tonnes()));
    }

    void chains() {
        const TieDowns& t = m_plan.tie_downs;
        if (m_plan.securing != SecuringRules::en)
            figure("tie-downs",
                   fmt::format("49 CFR 393 (second-hand): {} of {:.0f} kg; {} there count {:.0f} kg, {:.0f} "
                               "kg wanted",
                               t.count_us, m_plan.low_bed.chains.limit.kg(), m_plan.low_bed.chains.count,
                               t.strength.aggregate.kg(), t.strength.required.kg()));
        if (m_plan.securing != SecuringRules::us)
            figure(
                "tie-downs",
                fmt::format(
                    "equation of EN 12195-1 (from memory), two chains each way: forward {:.0f} kN each clean "
                    "and dry, {:.0f} wet or powdered; rearward {:.0f}, sideways {:.0f}; {:.0f} kN there",
                    t.forward_dry.kilonewtons(), t.forward_slippery.kilonewtons(),
                    t.rearward_dry.kilonewtons(), t.sideways_dry.kilonewtons(), t.chain_limit.kilonewtons()));
    }

    const LoadingPlan& m_plan;
    Marks m_marks;
    std::size_t m_width;
    std::string m_out;
};

}  // namespace

std::string load_text(const LoadingPlan& plan, const TextStyle& style) {
    return LoadText(plan, style).make();
}

}  // namespace loamway
