// SPDX-License-Identifier: Apache-2.0
#include "sheet_content.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "flag_groups.h"
#include "loamway/base/names.h"
#include "loamway/plan/cautions.h"
#include "loamway/plan/plan_words.h"

namespace loamway {

namespace {

constexpr std::string_view arrival_text = "Arrive";

std::string upper(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
    return text;
}

class Filler {
public:
    Filler(const Plan& plan, const Option& option)
        : m_plan(plan), m_option(option), m_clock(plan, option.depart), m_out(plan) {
        m_out.option = &option;
    }
    SheetContent make() {
        headline();
        facts();
        heat();
        stops();
        events();
        notes();
        checks();
        cautions();
        return std::move(m_out);
    }

private:
    [[nodiscard]] const UnitWords& units() const { return m_out.units; }
    [[nodiscard]] bool drives() const { return m_option.length_m.value_or(0) > 0; }

    void headline() {
        m_out.total_m = m_option.length_m.value_or(0) + m_option.hauled_m.value_or(0);
        m_out.can_be_done = m_option.feasible;
        const bool hauls = m_option.mode == Mode::haul;
        if (!m_option.feasible)
            m_out.headline = hauls ? "DO NOT HAUL" : "DO NOT DRIVE";
        else if (m_option.mode == Mode::mixed)
            m_out.headline = "DRIVE AND HAUL";
        else
            m_out.headline = hauls ? "HAUL IT" : "DRIVE IT";
        const bool is_verdict = m_option.id == m_plan.verdict.option;
        m_out.sentence = is_verdict ? printable(m_plan.verdict.sentence) : own_sentence();
        if (!m_option.feasible) {
            for (const std::string& why : m_option.why_not)
                m_out.hindrances.push_back(printable(why));
            for (const std::string& answer : m_option.answer_needed)
                m_out.hindrances.push_back("needs an answer: " + printable(answer));
        }
        for (std::size_t c = 0; c < surface_class_count && m_option.feasible; ++c)
            if (m_option.speed_caps_kmh[c])
                m_out.caps.emplace_back(surface_words(static_cast<SurfaceClass>(c)),
                                        units().speed(*m_option.speed_caps_kmh[c]));
        m_out.date = m_clock.date();
        m_out.zone = m_clock.zone_name();
        m_out.from_name = printable(m_plan.move.from_name);
        m_out.to_name = printable(m_plan.move.to_name);
        m_out.title = fmt::format("Stop sheet {}: {} to {}", m_out.date, m_out.from_name, m_out.to_name);
        m_out.map_words = map_words(m_plan);
    }
    [[nodiscard]] std::string own_sentence() const {
        std::string out = m_option.feasible
                              ? fmt::format("Another choice than the verdict's, {}: {}",
                                            option_name(m_option.id), way_words())
                              : fmt::format("As it stands, {} cannot be done", option_name(m_option.id));
        if (m_option.feasible && m_option.duration_s)
            out += fmt::format(", {}", format_duration(Duration::from_seconds(*m_option.duration_s)));
        if (!m_plan.verdict.sentence.empty())
            out += fmt::format(". Verdict: {}", printable(m_plan.verdict.sentence));
        return out;
    }
    [[nodiscard]] std::string way_words() const {
        std::string out;
        const auto add = [&out](const std::string& piece) { out += (out.empty() ? "" : ", ") + piece; };
        if (drives()) {
            add(fmt::format("{} driven", units().exact(*m_option.length_m)));
            if (m_option.hard_m)
                add(fmt::format("{} paved{}", units().exact(*m_option.hard_m), paved_range()));
            const auto count = stops_on_the_way(m_option);
            add(fmt::format("{} {}", count, count == 1 ? "stop" : "stops"));
        }
        if (m_option.hauled_m.value_or(0) > 0)
            add(fmt::format("{} on the low-bed", units().exact(*m_option.hauled_m)));
        return out.empty() ? std::string("no way found") : out;
    }

    [[nodiscard]] std::string paved_range() const {
        if (!m_option.hard_low_m || !m_option.hard_high_m)
            return {};
        return fmt::format(" ({} to {})", units().exact_number(*m_option.hard_low_m),
                           units().exact_number(*m_option.hard_high_m));
    }

    void fact(std::string name, const std::string& text) {
        if (!text.empty())
            m_out.facts.emplace_back(std::move(name), text);
    }
    void facts() {
        const MoveUnderstood& m = m_plan.move;
        fact("From", printable(m.from_name));
        fact("To", printable(m.to_name));
        fact("Machine", m.state.empty() ? printable(m.machine)
                                        : fmt::format("{}, {}", printable(m.machine), printable(m.state)));
        fact("Belts", printable(m.belts));
        if (m_option.depart)
            fact("Leave", fmt::format("{} {} ({})", m_out.date, m_clock.clock(m_option.depart), m_out.zone));
        m_out.leave = m_clock.clock(m_option.depart);
        m_out.arrive = m_clock.clock(m_option.arrive);
        std::string arrive = m_option.arrive ? m_out.arrive : std::string();
        if (m_option.arrive && m_option.duration_s)
            arrive +=
                fmt::format(", {} in all", format_duration(Duration::from_seconds(*m_option.duration_s)));
        fact("Arrive", arrive);
        if (m_option.relube_interval_m && drives())
            m_out.powder_every = units().exact(*m_option.relube_interval_m);
        fact("Way", way_words());
        for (const MoveField& f : m.fields)
            if (f.key == "air_c")
                fact("Air", printable(f.value));
        std::string phones;
        for (const std::string& phone : m.phones)
            phones += fmt::format("{}{}", phones.empty() ? "" : "; ", printable(phone));
        fact("Phones", phones.empty() ? "__________________________________" : phones);
    }

    void heat() {
        if (!m_option.heat)
            return;
        const OptionHeat& h = *m_option.heat;
        const auto add = [this](const char* name, const std::optional<double>& c) {
            if (c)
                m_out.heat.emplace_back(name, units().temperature(*c));
        };
        add("bars up to", h.bar_peak_c);
        // After readings another figure than the edge of the band is held against the limit.
        if (h.calibrated)
            add("reckoned with", h.acted_on_c);
        add("may reach", h.bar_high_c);
        add("limit", h.limit_c);
        add("guide lugs up to", h.guide_lug_peak_c);
    }

    void stops() {
        double last_m = 0;
        for (const PlanStop& s : m_option.stops) {
            SheetStop out;
            out.stop = &s;
            out.number = static_cast<int>(m_out.stops.size()) + 1;
            const std::string what = stop_words(s);
            out.title = upper(what.substr(0, what.find(" (")));
            out.total = units().exact_number(s.at_m);
            out.since_stop = units().exact_number(s.at_m - last_m);
            last_m = s.at_m;
            out.since_powder = units().exact_number(s.since_relube_m);
            out.arrive = m_clock.clock(s.arrive);
            out.leave = m_clock.clock(s.leave);
            if (s.wait_s > 0)
                out.wait = format_duration(Duration::from_seconds(s.wait_s));
            if (s.side == "left" || s.side == "right")
                out.side = upper(s.side);
            out.where = where_words(s);
            out.why = printable(s.why);
            out.steps = letter_of(s);
            for (const std::string& c : s.cautions)
                out.cautions.push_back(printable(c));
            out.geo = fmt::format("geo:{:.6f},{:.6f}", s.point.lat(), s.point.lon());
            m_out.stops.push_back(std::move(out));
        }
    }
    std::string letter_of(const PlanStop& s) {
        if (s.to_do.empty())
            return {};
        std::vector<std::string> steps;
        for (const std::string& step : s.to_do)
            steps.push_back(printable(step));
        for (const SheetSteps& known : m_out.steps)
            if (known.steps == steps)
                return known.letter;
        // A, B ... Z, AA, AB ...
        const std::size_t n = m_out.steps.size();
        std::string letter = n < 26 ? std::string() : std::string(1, static_cast<char>('A' + n / 26 - 1));
        letter += static_cast<char>('A' + n % 26);
        const std::string what = stop_words(s);
        m_out.steps.push_back({letter, what.substr(0, what.find(" (")), std::move(steps)});
        return letter;
    }

    void event(SheetEvent::Kind kind, double at_m, std::string text, int stop_number = 0) {
        m_out.events.push_back({kind, at_m, units().exact_number(at_m), std::move(text), stop_number});
    }
    void events() {
        for (const SheetStop& s : m_out.stops)
            event(SheetEvent::Kind::stop, s.stop->at_m, s.title, s.number);
        for (const Leg& leg : m_option.legs)
            for (const Instruction& i : leg.directions)
                if (i.text != arrival_text)
                    event(SheetEvent::Kind::turn, i.at_m, turn_words(i));
        for (const Flag& f : m_option.flags)
            if (f.at_m && f.severity != Severity::note && !is_for_the_planner(f))
                event(f.severity == Severity::stop ? SheetEvent::Kind::stop_flag : SheetEvent::Kind::check,
                      *f.at_m, flag_words(f));
        std::stable_sort(m_out.events.begin(), m_out.events.end(),
                         [](const SheetEvent& a, const SheetEvent& b) { return a.at_m < b.at_m; });
        if (m_out.total_m > 0)
            event(SheetEvent::Kind::arrive, m_out.total_m,
                  fmt::format("Arrive: {}", printable(m_plan.move.to_name)));
    }
    static std::string turn_words(const Instruction& i) {
        const bool named = i.road.empty() || i.text.find(i.road) != std::string::npos;
        return named ? printable(i.text) : fmt::format("{} ({})", printable(i.text), printable(i.road));
    }
    [[nodiscard]] std::string flag_words(const Flag& f) const {
        std::string text = printable(f.text);
        if (f.last_turn_round_m)
            text += fmt::format(" (last place to turn round: {} {})", units().long_unit(),
                                units().exact_number(*f.last_turn_round_m));
        return text;
    }

    void notes() {
        Option drivers, planners;
        for (const Flag& f : m_option.flags)
            if (is_for_the_planner(f))
                planners.flags.push_back(f);
            else if (!f.at_m || f.severity == Severity::note)
                drivers.flags.push_back(f);
        for (const FlagLine& line : flag_lines(drivers, units()))
            m_out.notes.push_back(line.severity == Severity::note
                                      ? line.text
                                      : fmt::format("{}: {}", severity_words(line.severity), line.text));
        if (m_option.id == m_plan.verdict.option && !is_certain(m_plan.verdict))
            m_out.planner.push_back("How sure: " + certainty_words(m_plan));
        for (const FlagLine& line : flag_lines(planners, units()))
            m_out.planner.push_back(line.text);
    }

    /// What to look at before the wheel turns. Common practice, no source.
    void checks() {
        auto& c = m_out.checks;
        if (drives()) {
            c.emplace_back(
                "Belt tension and alignment; no stones, packed or frozen mud; bars and guide lugs whole");
            const auto powder =
                std::count_if(m_option.stops.begin(), m_option.stops.end(),
                              [](const PlanStop& s) { return s.kind == "start" || s.kind == "relube"; });
            const std::string need = powder == 0   ? std::string("one stop, in case")
                                     : powder == 1 ? std::string("1 stop and one to spare")
                                                   : fmt::format("{} stops and one to spare", powder);
            c.push_back(fmt::format("Dry powder for {}; glasses, dust mask, gloves", need));
            c.emplace_back("Implement raised and locked; width, height and load as planned");
        }
        if (m_option.hauled_m.value_or(0) > 0) {
            c.emplace_back(
                "Low-bed: boards and edges under the belts rounded or covered; ramp clean and dry");
            c.emplace_back(
                "Tied down as the manual says; height measured on the deck; both drivers know this sheet");
        }
        c.emplace_back("Lights, beacon, warning sign and mirrors clean; triangle, vests, extinguisher");
        if (m_option.fuel_l)
            c.push_back(fmt::format("Fuel: about {} {} for this move", units().volume(*m_option.fuel_l),
                                    units().volume_unit()));
        c.emplace_back("Permit, escort and road authority settled where the notes ask for it");
        c.emplace_back("Trip meter to zero; write down the time");
    }

    /// The plan's cautions, without those for loading where nothing is loaded.
    void cautions() {
        const std::vector<std::string> driving = standard_cautions(false), all = standard_cautions(true);
        const bool hauls = m_option.hauled_m.value_or(0) > 0;
        for (const std::string& c : m_plan.cautions) {
            const bool loading = std::find(all.begin(), all.end(), c) != all.end() &&
                                 std::find(driving.begin(), driving.end(), c) == driving.end();
            if (hauls || !loading)
                m_out.cautions.push_back(printable(c));
        }
    }

    const Plan& m_plan;
    const Option& m_option;
    ClockWords m_clock;
    SheetContent m_out;
};

}  // namespace

SheetContent sheet_content_of(const Plan& plan, const Option& option) {
    return Filler(plan, option).make();
}

}  // namespace loamway
