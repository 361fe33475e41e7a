// SPDX-License-Identifier: Apache-2.0
// The stop sheet: one page or two for the cab, in driving order, to tick off with a pencil.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "flag_groups.h"
#include "loamway/base/names.h"
#include "loamway/report/layout.h"
#include "loamway/report/text_report.h"
#include "words.h"

namespace loamway {

namespace {

constexpr std::size_t width = 80;
// The sheet says itself when and where the move ends.
constexpr std::string_view arrival_text = "Arrive";

std::string rule(char c) {
    return std::string(width, c) + "\n";
}

class SheetText {
public:
    SheetText(const Plan& plan, const Option& option)
        : m_plan(plan), m_option(option), m_units(plan.units), m_clock(plan, option.depart) {}

    std::string make() {
        head();
        way();
        notes();
        cautions();
        planner();
        m_out += rule('-');
        m_out += wrapped("", map_words(m_plan), width);
        return std::move(m_out);
    }

private:
    /// Something that happens at a point of the way.
    struct Event {
        double at_m;
        int order;  // among events at the same metre
        const PlanStop* stop = nullptr;
        const Instruction* turn = nullptr;
        const Flag* flag = nullptr;
    };

    void line(std::string_view name, const std::string& text) {
        if (!text.empty())
            m_out += wrapped(pad_right(name, 10), text, width);
    }

    void head() {
        m_out += rule('=');
        m_out +=
            fmt::format("STOP SHEET{}\n",
                        pad_left(fmt::format("{} {}", m_clock.date(), option_name(m_option.id)), width - 10));
        m_out += rule('=');
        if (!m_option.feasible)
            cannot();
        const MoveUnderstood& m = m_plan.move;
        line("From", printable(m.from_name));
        line("To", printable(m.to_name));
        line("Machine", joined({printable(m.machine), printable(m.state)}, ", "));
        line("Belts", printable(m.belts));
        line("Way", way_words());
        line("Times", times_words());
        line("Speed", speed_words());
        if (m_option.relube_interval_m)
            line("Powder", fmt::format("dry powder on the inside of the belt at the latest every {}",
                                       m_units.exact(*m_option.relube_interval_m)));
        std::string phones;
        for (const std::string& phone : m.phones)
            phones += fmt::format("{}{}", phones.empty() ? "" : "; ", printable(phone));
        line("Phones", phones.empty() ? "______________________________________________" : phones);
    }
    void cannot() {
        m_out += "CANNOT BE DONE AS IT STANDS\n";
        for (const std::string& why : m_option.why_not)
            m_out += wrapped("  - ", printable(why), width);
        for (const std::string& answer : m_option.answer_needed)
            m_out += wrapped("  - needs an answer: ", printable(answer), width);
        m_out += rule('-');
    }
    static std::string joined(std::initializer_list<std::string> pieces, std::string_view gap) {
        std::string out;
        for (const std::string& piece : pieces)
            if (!piece.empty())
                out += fmt::format("{}{}", out.empty() ? "" : gap, piece);
        return out;
    }
    [[nodiscard]] std::string times_words() const {
        std::string out = fmt::format("leave {}, arrive {}", m_clock.clock(m_option.depart),
                                      m_clock.clock(m_option.arrive));
        if (m_option.duration_s)
            out += fmt::format(", {}", format_duration(Duration::from_seconds(*m_option.duration_s)));
        return fmt::format("{} ({})", out, m_clock.zone_name());
    }
    [[nodiscard]] std::string way_words() const {
        std::string out;
        const auto add = [&out](const std::string& piece) { out += (out.empty() ? "" : ", ") + piece; };
        if (m_option.length_m.value_or(0) > 0) {
            add(fmt::format("{} driven", m_units.exact(*m_option.length_m)));
            if (m_option.hard_m)
                add(fmt::format("{} paved{}", m_units.exact(*m_option.hard_m), paved_range()));
            const auto stops = stops_on_the_way(m_option);
            add(fmt::format("{} {} on the way", stops, stops == 1 ? "stop" : "stops"));
        }
        if (m_option.hauled_m.value_or(0) > 0)
            add(fmt::format("{} on the low-bed", m_units.exact(*m_option.hauled_m)));
        return out;
    }
    [[nodiscard]] std::string paved_range() const {
        if (!m_option.hard_low_m || !m_option.hard_high_m)
            return {};
        return fmt::format(" ({} to {})", m_units.exact_number(*m_option.hard_low_m),
                           m_units.exact_number(*m_option.hard_high_m));
    }
    [[nodiscard]] std::string speed_words() const {
        std::string out;
        for (std::size_t c = 0; c < surface_class_count; ++c)
            if (m_option.speed_caps_kmh[c])
                out += fmt::format("{}{} {} {}", out.empty() ? "at most " : ", ",
                                   surface_words(static_cast<SurfaceClass>(c)),
                                   m_units.speed(*m_option.speed_caps_kmh[c]), m_units.speed_unit());
        return out;
    }

    [[nodiscard]] std::vector<Event> events() const {
        std::vector<Event> out;
        for (const PlanStop& s : m_option.stops)
            out.push_back({s.at_m, 0, &s, nullptr, nullptr});
        for (const Leg& leg : m_option.legs)
            for (const Instruction& i : leg.directions)
                if (i.text != arrival_text)
                    out.push_back({i.at_m, 1, nullptr, &i, nullptr});
        for (const Flag& f : m_option.flags)
            if (f.at_m && f.severity != Severity::note && !is_for_the_planner(f))
                out.push_back({*f.at_m, 2, nullptr, nullptr, &f});
        std::stable_sort(out.begin(), out.end(), [](const Event& a, const Event& b) {
            return a.at_m != b.at_m ? a.at_m < b.at_m : a.order < b.order;
        });
        return out;
    }

    void way() {
        m_out += rule('-');
        m_out += "Trip meter to zero where you start. Write what it shows at each stop.\n";
        int number = 0;
        bool after_stop = true;
        for (const Event& e : events()) {
            if (e.stop != nullptr) {
                m_out += rule('-');
                stop(*e.stop, ++number);
                after_stop = true;
                continue;
            }
            if (after_stop)
                m_out += rule('-');
            after_stop = false;
            e.turn != nullptr ? turn(*e.turn) : flag(*e.flag);
        }
        m_out += rule('-');
        m_out += fmt::format("{}  ARRIVE {}: {}\n", at(total_m()), m_clock.clock(m_option.arrive),
                             printable(m_plan.move.to_name));
    }
    [[nodiscard]] double total_m() const {
        return m_option.length_m.value_or(0) + m_option.hauled_m.value_or(0);
    }
    [[nodiscard]] std::string at(double m) const {
        return fmt::format("{} {}", pad_left(m_units.exact_number(m), 6), m_units.long_unit());
    }

    static std::string upper(std::string text) {
        std::transform(text.begin(), text.end(), text.begin(),
                       [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
        return text;
    }
    void stop(const PlanStop& s, int number) {
        const std::string what = stop_words(s);
        const auto bracket = what.find(" (");
        m_out += fmt::format("{}  [{}] {}{}\n", at(s.at_m), number, upper(what.substr(0, bracket)),
                             bracket == std::string::npos ? "" : what.substr(bracket));
        constexpr std::string_view below = "           ";
        std::string times = fmt::format("{} to {}", m_clock.clock(s.arrive), m_clock.clock(s.leave));
        if (s.wait_s > 0)
            times += fmt::format(", {}", format_duration(Duration::from_seconds(s.wait_s)));
        if (s.at_m >= 50)
            times += fmt::format("; {} after the last stop", m_units.exact(s.at_m - m_last_stop_m));
        if (s.since_relube_m >= 50)
            times += fmt::format("; {} since the last powder", m_units.exact(s.since_relube_m));
        m_last_stop_m = s.at_m;
        m_out += wrapped(below, times, width);
        const auto named = [&](std::string_view name, const std::string& text) {
            if (!text.empty())
                m_out += wrapped(fmt::format("{}{}", below, pad_right(name, 7)), text, width);
        };
        named("where", where_words(s));
        named("point", fmt::format("{:.6f}, {:.6f}", s.point.lat(), s.point.lon()));
        named("why", printable(s.why));
        for (const std::string& step : s.to_do)
            m_out += wrapped("     [ ]   ", printable(step), width);
        for (const std::string& caution : s.cautions)
            m_out += wrapped("       !   ", printable(caution), width);
        m_out +=
            fmt::format("{}trip meter ________   clock ________   remarks ______________________\n", below);
    }
    void turn(const Instruction& i) {
        const bool named = i.road.empty() || i.text.find(i.road) != std::string::npos;
        m_out += wrapped(
            at(i.at_m) + "  ",
            named ? printable(i.text) : fmt::format("{} ({})", printable(i.text), printable(i.road)), width);
    }
    void flag(const Flag& f) {
        std::string text = printable(f.text);
        if (f.last_turn_round_m)
            text += fmt::format(" (last place to turn round: {} {})", m_units.long_unit(),
                                m_units.exact_number(*f.last_turn_round_m));
        m_out += wrapped(fmt::format("{}  ! {} ", at(*f.at_m), severity_words(f.severity)), text, width);
    }

    /// What was not said on the way: notes, and flags that have no place.
    void notes() {
        const auto lines = flag_lines(left_over(), m_units);
        if (lines.empty())
            return;
        m_out += rule('-');
        m_out += "LOOK OUT FOR\n";
        for (const FlagLine& l : lines)
            m_out += wrapped(fmt::format("  {}  ", severity_words(l.severity)), l.text, width);
    }
    [[nodiscard]] Option left_over() const {
        Option rest;
        std::copy_if(m_option.flags.begin(), m_option.flags.end(), std::back_inserter(rest.flags),
                     [](const Flag& f) {
                         return !is_for_the_planner(f) && (!f.at_m || f.severity == Severity::note);
                     });
        return rest;
    }

    void cautions() {
        if (m_plan.cautions.empty())
            return;
        m_out += rule('-');
        m_out += "CAUTIONS\n";
        for (const std::string& caution : m_plan.cautions)
            m_out += wrapped("  - ", printable(caution), width);
    }

    void planner() {
        Option found;
        std::copy_if(m_option.flags.begin(), m_option.flags.end(), std::back_inserter(found.flags),
                     is_for_the_planner);
        const bool unsure = m_option.id == m_plan.verdict.option && !is_certain(m_plan.verdict);
        if (found.flags.empty() && !unsure)
            return;
        m_out += rule('-');
        m_out += "FOR THE PLANNER\n";
        if (unsure)
            m_out += wrapped("  - ", "How sure: " + certainty_words(m_plan), width);
        for (const FlagLine& l : flag_lines(found, m_units))
            m_out += wrapped("  - ", l.text, width);
    }

    const Plan& m_plan;
    const Option& m_option;
    UnitWords m_units;
    ClockWords m_clock;
    double m_last_stop_m = 0;
    std::string m_out;
};

}  // namespace

std::string sheet_text(const Plan& plan, const std::string& option) {
    return SheetText(plan, plan.option_for_output(option)).make();
}

}  // namespace loamway
