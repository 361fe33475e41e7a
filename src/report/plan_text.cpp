// SPDX-License-Identifier: Apache-2.0
// The answer on the terminal.
#include <fmt/format.h>

#include <algorithm>

#include "choices_table.h"
#include "departures_table.h"
#include "flag_groups.h"
#include "loamway/base/names.h"
#include "loamway/report/layout.h"
#include "loamway/report/text_report.h"
#include "options_table.h"
#include "words.h"

namespace loamway {

namespace {

constexpr std::size_t directions_shown = 25;

class PlanText {
public:
    PlanText(const Plan& plan, const TextStyle& style)
        : m_plan(plan),
          m_units(plan.units),
          m_marks(style.colour),
          m_width(std::max<std::size_t>(40, style.width)) {}

    std::string make() {
        verdict();
        move();
        options();
        choices();
        m_out += departures_table(m_plan, m_width, m_marks);
        if (const Option* chosen = chosen_option()) {
            stops(*chosen);
            directions(*chosen);
            flags(*chosen);
        }
        assumed();
        cautions();
        m_out += "\n" + wrapped("", map_words(m_plan), m_width);
        return std::move(m_out);
    }

private:
    void heading(std::string_view text) { m_out += fmt::format("\n{}\n", m_marks.bold(text)); }
    void item(std::string_view text) { m_out += wrapped("  - ", printable(text), m_width); }

    void verdict() {
        m_out += m_marks.bold(wrapped("", printable(m_plan.verdict.sentence), m_width));
        for (const std::string& reason : m_plan.verdict.reasons)
            item(reason);
        for (const std::string& flip : m_plan.verdict.would_flip)
            item("Would turn it: " + flip);
    }

    void move() {
        const MoveUnderstood& m = m_plan.move;
        m_out += "\n";
        m_out += wrapped("From     ", end(m.from_name, m.from_off_road_m), m_width);
        m_out += wrapped("To       ", end(m.to_name, m.to_off_road_m), m_width);
        std::string machine = printable(m.machine);
        if (!m.state.empty())
            machine += fmt::format(", {}", printable(m.state));
        if (!m.belts.empty())
            machine += fmt::format("; belts {}", printable(m.belts));
        m_out += wrapped("Machine  ", machine, m_width);
        for (const MoveField& f : m.fields)
            if (f.key == "ledger")
                m_out += wrapped("Ledger   ", printable(f.value), m_width);
            else if (f.key == "readings" || f.key == "reading_refused")
                m_out += wrapped("Readings ", printable(f.value), m_width);
    }
    [[nodiscard]] std::string end(const std::string& name, double off_road_m) const {
        if (off_road_m < 0.5)
            return printable(name);
        return fmt::format("{} ({} from the road)", printable(name), m_units.short_length(off_road_m));
    }

    void options() {
        if (m_plan.options.empty())
            return;
        heading("Options");
        m_out += options_table(m_plan, m_width, m_marks);
        if (const std::string note = surfaces_note(m_plan); !note.empty())
            m_out += wrapped("  ", note, m_width);
        for (const Option& o : m_plan.options)
            option_notes(o);
    }
    void option_notes(const Option& o) {
        const std::string first = fmt::format("  {}: ", option_name(o.id));
        const auto note = [&](const std::string& text) { m_out += wrapped(first, text, m_width); };
        for (const std::string& also : o.also)
            note(fmt::format("is {} too", option_name(also)));
        if (const std::string climb = climb_words(o, m_units); !climb.empty())
            note(climb);
        for (const std::string& why : o.why_not)
            note("cannot be done: " + printable(why));
        for (const std::string& answer : o.answer_needed)
            note("needs an answer: " + printable(answer));
        if (!o.exact && o.gap_m)
            note(
                fmt::format("the search was cut short; at most {} could be gained", m_units.exact(*o.gap_m)));
    }

    void choices() {
        const std::string table = choices_table(m_plan, m_width, m_marks);
        if (table.empty())
            return;
        heading("Choices between a longer way and more paved road");
        m_out += table;
    }

    [[nodiscard]] const Option* chosen_option() const {
        if (m_plan.options.empty())
            return nullptr;
        const Option* o = m_plan.find_option(m_plan.verdict.option);
        if (o != nullptr)
            return o;
        // Nothing can be done: the first driven way still shows where the trouble is.
        const auto drawn = std::find_if(m_plan.options.begin(), m_plan.options.end(),
                                        [](const Option& candidate) { return !candidate.geometry.empty(); });
        return drawn == m_plan.options.end() ? nullptr : &*drawn;
    }

    void stops(const Option& o) {
        if (o.stops.empty())
            return;
        const ClockWords clock(m_plan, o.depart);
        heading(fmt::format("Stops of {} on {}, times in {}", option_name(o.id), clock.date(),
                            clock.zone_name()));
        for (const PlanStop& s : o.stops)
            stop(s, clock);
        how_to(o);
    }
    void stop(const PlanStop& s, const ClockWords& clock) {
        const std::string first = fmt::format("  {:>5} {}  {:>5}  ", m_units.exact_number(s.at_m),
                                              m_units.long_unit(), clock.clock(s.arrive));
        const std::string below(columns_of(first), ' ');
        std::string what = stop_words(s);
        if (s.wait_s > 0)
            what += fmt::format(", {}", format_duration(Duration::from_seconds(s.wait_s)));
        m_out += m_marks.bold(wrapped(first, what, m_width));
        if (const std::string where = where_words(s); !where.empty())
            m_out += wrapped(below, where, m_width);
        std::string why = printable(s.why);
        if (s.since_relube_m >= 50)
            why += fmt::format("{}{} since the last powder", why.empty() ? "" : "; ",
                               m_units.exact(s.since_relube_m));
        if (!why.empty())
            m_out += wrapped(below, why, m_width);
        for (const std::string& caution : s.cautions)
            m_out += m_marks.yellow(wrapped(below + "! ", printable(caution), m_width));
    }
    /// The steps of each kind of stop, once.
    void how_to(const Option& o) {
        std::vector<const PlanStop*> seen;
        for (const PlanStop& s : o.stops) {
            const bool again = std::any_of(seen.begin(), seen.end(),
                                           [&s](const PlanStop* other) { return other->to_do == s.to_do; });
            if (s.to_do.empty() || again)
                continue;
            seen.push_back(&s);
            const std::string title = stop_words(s);
            m_out += fmt::format("  What to do ({}):\n", title.substr(0, title.find(" (")));
            int number = 0;
            for (const std::string& step : s.to_do)
                m_out += wrapped(fmt::format("    {}. ", ++number), printable(step), m_width);
        }
    }

    void directions(const Option& o) {
        std::vector<const Instruction*> all;
        for (const Leg& leg : o.legs)
            for (const Instruction& i : leg.directions)
                all.push_back(&i);
        if (all.empty())
            return;
        heading("The way");
        for (std::size_t i = 0; i < all.size() && i < directions_shown; ++i)
            m_out +=
                wrapped(fmt::format("  {:>5} {}  ", m_units.exact_number(all[i]->at_m), m_units.long_unit()),
                        direction_words(*all[i]), m_width);
        if (all.size() > directions_shown)
            m_out += fmt::format("  and {} more: see the stop sheet\n", all.size() - directions_shown);
    }
    [[nodiscard]] static std::string direction_words(const Instruction& i) {
        const bool named = i.road.empty() || i.text.find(i.road) != std::string::npos;
        return named ? printable(i.text) : fmt::format("{} ({})", printable(i.text), printable(i.road));
    }

    void flags(const Option& o) {
        const std::vector<FlagLine> lines = flag_lines(o, m_units);
        if (lines.empty())
            return;
        heading("Look out for");
        for (const FlagLine& l : lines) {
            const std::string text =
                wrapped(fmt::format("  {}  ", severity_words(l.severity)), l.text, m_width);
            m_out += l.severity == Severity::stop    ? m_marks.red(text)
                     : l.severity == Severity::check ? m_marks.yellow(text)
                                                     : text;
        }
    }

    void assumed() {
        std::string list;
        for (const MoveField& f : m_plan.move.fields)
            if (f.assumed)
                list +=
                    fmt::format("{}{}: {}", list.empty() ? "" : "; ", field_words(f.key), printable(f.value));
        if (m_plan.region.elevation.empty())
            list += fmt::format("{}heights: flat, as the region was built without elevation",
                                list.empty() ? "" : "; ");
        if (list.empty())
            return;
        heading("Assumed, because nobody said");
        m_out += wrapped("  ", list, m_width);
    }

    void cautions() {
        if (m_plan.cautions.empty())
            return;
        heading("Cautions");
        for (const std::string& caution : m_plan.cautions)
            item(caution);
    }

    const Plan& m_plan;
    UnitWords m_units;
    Marks m_marks;
    std::size_t m_width;
    std::string m_out;
};

}  // namespace

std::string plan_text(const Plan& plan, const TextStyle& style) {
    return PlanText(plan, style).make();
}

}  // namespace loamway
