// SPDX-License-Identifier: Apache-2.0
// The loading plan as text: read from the top, done from the top.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "load_views.h"
#include "loamway/base/names.h"
#include "loamway/report/layout.h"
#include "loamway/report/load_report.h"

namespace loamway {
namespace {

class LoadText {
public:
    LoadText(const LoadingPlan& plan, const TextStyle& style)
        : m_plan(plan),
          m_words(plan.words()),
          m_marks(style.colour),
          m_width(std::max<std::size_t>(36, style.width)) {}

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
        m_out += wrapped("",
                         printable(fmt::format("{}, {}: {} on {}", m_plan.machine.name, m_plan.state.name,
                                               m_words.mass(m_plan.state.mass), m_plan.low_bed.name)),
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
        figure("loaded", fmt::format("{} high (add {} for bounce under a bridge), {} wide, {} long, {}",
                                     m_words.size(m_plan.loaded.height), m_words.size(bounce_room),
                                     m_words.size(m_plan.loaded.width), m_words.size(m_plan.loaded.length),
                                     m_words.mass(m_plan.loaded.mass)));
        chains();
    }

    void across() {
        const Across& a = m_plan.across;
        std::string text = fmt::format("belts {} over all on a deck of {}; {:.0f} % of each belt on it",
                                       m_words.size(a.outer_width), m_words.size(m_plan.low_bed.deck.width),
                                       100 * a.share_on_deck);
        text += a.outriggers ? fmt::format("; {} wider on each side, {} outriggers a side",
                                           m_words.small(a.extension), m_plan.outriggers_needed)
                             : "; no outriggers needed";
        figure("across", text);
    }

    void ramp() {
        const RampCheck& r = m_plan.ramp;
        figure("ramp",
               fmt::format("{:.1f} degrees, {} long, {} over the ground; friction {:.2f} needed; "
                           "clean dry up to {:.0f}, wet or powdered up to {:.0f} degrees",
                           r.slope.degrees(), m_words.size(r.length), m_words.size(r.run), r.friction_needed,
                           r.steepest_dry.degrees(), r.steepest_slippery.degrees()));
        if (r.see_saw)
            figure("ramp top",
                   fmt::format("tips {} past the edge, front drops {}, {}, {} on one edge a side",
                               m_words.size(r.see_saw->past_edge), m_words.size(r.see_saw->front_drop),
                               m_words.energy(r.see_saw->energy), m_words.force(r.edge_force)));
        if (r.clearance_needed)
            figure("ramp top", fmt::format("{} clearance between the axles needed, {} there",
                                           m_words.size(*r.clearance_needed),
                                           m_words.size(m_plan.machine.ground_clearance)));
        figure("overhangs", fmt::format("front passes {:.0f}, rear {:.0f} degrees", r.approach.degrees(),
                                        r.departure.degrees()));
    }

    void boards() {
        for (const BoardCheck& b : m_plan.boards)
            figure("board",
                   fmt::format("{}: {}, {} of {}, bends {}; {} there, {} needed", b.what,
                               m_words.small_force(b.load), m_words.stress_number(b.stress.bending, 1),
                               m_words.stress(b.bending_allowed, 0), m_words.bend(b.stress.deflection),
                               m_words.small(b.plank.thickness), m_words.small(rounded_up(b.needed))));
    }

    void place() {
        const DeckPlace& p = m_plan.place;
        if (!p.possible)
            return;
        const AxleLoads& l = m_plan.loaded.loads;
        figure("mark", fmt::format("centre of mass {} behind the kingpin, allowed {}", m_words.size(p.centre),
                                   m_words.range(p.from, p.to)));
        const TruckAxles& a = m_plan.low_bed.axles;
        figure("axles",
               fmt::format("steering {}, driven {}, trailer {}, kingpin {}",
                           m_words.mass_of(l.steer, a.steer_limit), m_words.mass_of(l.drive, a.drive_limit),
                           m_words.mass_of(l.trailer, a.trailer_limit),
                           m_words.mass_of(l.kingpin, a.kingpin_limit)));
    }

    void chains() {
        const TieDowns& t = m_plan.tie_downs;
        if (m_plan.securing != SecuringRules::en)
            figure("tie-downs",
                   fmt::format("49 CFR 393 (second-hand): {} of {}; {} there count {}, {} wanted", t.count_us,
                               m_words.chain(m_plan.low_bed.chains.limit), m_plan.low_bed.chains.count,
                               m_words.chain(t.strength.aggregate), m_words.chain(t.strength.required)));
        if (m_plan.securing != SecuringRules::us)
            figure("tie-downs",
                   fmt::format(
                       "equation of EN 12195-1 (from memory), two chains each way: forward {} each clean "
                       "and dry, {} wet or powdered; rearward {}, sideways {}; {} there",
                       m_words.force(t.forward_dry), m_words.force_number(t.forward_slippery),
                       m_words.force_number(t.rearward_dry), m_words.force_number(t.sideways_dry),
                       m_words.force(t.chain_limit)));
    }

    const LoadingPlan& m_plan;
    LoadWords m_words;
    Marks m_marks;
    std::size_t m_width;
    std::string m_out;
};

}  // namespace

std::string load_text(const LoadingPlan& plan, const TextStyle& style) {
    return LoadText(plan, style).make();
}

}  // namespace loamway
