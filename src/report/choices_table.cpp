// SPDX-License-Identifier: Apache-2.0
#include "choices_table.h"

#include <fmt/format.h>

#include "loamway/base/names.h"
#include "words.h"

namespace loamway {

namespace {

class Choices {
public:
    explicit Choices(const Plan& plan) : m_units(plan.units), m_points(*plan.front) {
        for (const FrontPoint& p : m_points)
            if (p.cost && (m_cheapest == nullptr || *p.cost < *m_cheapest->cost))
                m_cheapest = &p;
    }

    std::string text(std::size_t width, const Marks& marks) const {
        std::string out =
            marks.bold(row("", m_units.long_unit(), fmt::format("paved {}", m_units.long_unit()), "stops",
                           "time", "cost", "")) +
            "\n";
        for (const FrontPoint& p : m_points)
            out += wrapped(
                row(fmt::format("{}", p.k), m_units.exact_number(p.length_m), m_units.exact_number(p.hard_m),
                    p.stops && p.stops_ok.value_or(false) ? fmt::format("{}", *p.stops) : "-", time(p),
                    p.cost ? fmt::format("{:.0f}", *p.cost) : "-", "  "),
                meaning(p), width);
        return out;
    }

private:
    static std::string row(std::string_view k, std::string_view length, std::string_view paved,
                           std::string_view stops, std::string_view time, std::string_view cost,
                           std::string_view end) {
        return fmt::format("  {:>2} {:>6} {:>8} {:>5} {:>7} {:>5}{}", k, length, paved, stops, time, cost,
                           end);
    }
    static std::string time(const FrontPoint& p) {
        return p.duration_s && p.why_not.empty() ? format_duration(Duration::from_seconds(*p.duration_s))
                                                 : "-";
    }

    [[nodiscard]] std::string meaning(const FrontPoint& p) const {
        std::string out;
        const auto add = [&](const std::string& piece) { out += (out.empty() ? "" : "; ") + piece; };
        const bool first = &p == &m_points.front(), last = &p == &m_points.back();
        if (first && last)
            add("the shortest way is the one with the least paved road too");
        else if (first)
            add("least paved road");
        else if (last)
            add("shortest way");
        if (&p == m_cheapest && m_points.size() > 1)
            add("cheapest of these");
        if (!p.option.empty())
            add(fmt::format("see {}", option_name(p.option)));
        for (const std::string& why : p.why_not)
            add(printable(why.substr(0, why.find(':'))));
        if (out.empty())
            add(fmt::format("{} farther, {} less paved", m_units.exact(p.length_m - m_points.back().length_m),
                            m_units.exact(m_points.back().hard_m - p.hard_m)));
        return out;
    }

    UnitWords m_units;
    const std::vector<FrontPoint>& m_points;
    const FrontPoint* m_cheapest = nullptr;
};

}  // namespace

std::string choices_table(const Plan& plan, std::size_t width, const Marks& marks) {
    if (plan.front_exact && !*plan.front_exact)
        return wrapped(
            "  ",
            "There are more ways between these two ends than the search has room for, so no choices "
            "are shown. A smaller detour cap helps.",
            width);
    if (!plan.front || plan.front->empty())
        return {};
    return Choices(plan).text(width, marks) +
           wrapped("  ",
                   "Farther and less paved than the shortest way; lengths without the ways into stop places. "
                   "--front-point and a number plan one in full.",
                   width);
}

}  // namespace loamway
