// SPDX-License-Identifier: Apache-2.0
#include "departures_table.h"

#include <fmt/format.h>

#include "loamway/base/names.h"
#include "words.h"

namespace loamway {

namespace {

class Departures {
public:
    explicit Departures(const Plan& plan)
        : m_list(*plan.departures), m_units(plan.units), m_clock(plan, m_list.front().depart) {
        for (const Departure& d : m_list)
            if (d.can_be_done && d.within_permitted_hours &&
                (m_cheapest == nullptr || *d.cost < *m_cheapest->cost))
                m_cheapest = &d;
    }

    [[nodiscard]] std::string heading() const {
        return fmt::format("When to leave, from {} on; times in {}", m_clock.date(), m_clock.zone_name());
    }
    [[nodiscard]] std::string rows(std::size_t width, const Marks& marks) const {
        std::string out = marks.bold(row("leave", "by", "arrive", "stops", "cost", "bars",
                                         fmt::format("paved {}", m_units.speed_unit()), "")) +
                          "\n";
        for (const Departure& d : m_list)
            out += wrapped(row(m_clock.clock(d.depart), d.option.empty() ? "-" : option_name(d.option),
                               m_clock.clock(d.arrive), d.stops ? fmt::format("{}", *d.stops) : "-",
                               d.cost ? fmt::format("{:.0f}", *d.cost) : "-",
                               d.bar_high_c ? m_units.temperature(*d.bar_high_c) : "-",
                               d.speed_caps_kmh[0] ? m_units.speed(*d.speed_caps_kmh[0]) : "-", "  "),
                           remark(d), width);
        return out;
    }

private:
    static std::string row(std::string_view leave, std::string_view by, std::string_view arrive,
                           std::string_view stops, std::string_view cost, std::string_view bars,
                           std::string_view paved, std::string_view end) {
        return fmt::format("  {:>5} {:<13} {:>6} {:>5} {:>5} {:>6} {:>10}{}", leave, by, arrive, stops, cost,
                           bars, paved, end);
    }
    [[nodiscard]] std::string remark(const Departure& d) const {
        std::string out;
        const auto add = [&](std::string_view piece) {
            out += fmt::format("{}{}", out.empty() ? "" : "; ", piece);
        };
        if (d.taken)
            add("this plan");
        if (&d == m_cheapest)
            add("cheapest");
        if (d.in_daylight && !*d.in_daylight)
            add("in the dark");
        if (!d.within_permitted_hours)
            add("not at a permitted hour");
        else
            for (const std::string& why : d.why_not)
                add(printable(why.substr(0, why.find(':'))));
        return out;
    }

    const std::vector<Departure>& m_list;
    UnitWords m_units;
    ClockWords m_clock;
    const Departure* m_cheapest = nullptr;
};

}  // namespace

std::string departures_table(const Plan& plan, std::size_t width, const Marks& marks) {
    if (!plan.departures || plan.departures->empty())
        return {};
    const Departures table(plan);
    return fmt::format("\n{}\n", marks.bold(table.heading())) + table.rows(width, marks) +
           wrapped(
               "  ",
               "Bars: the upper edge of the estimate. Each hour without the choices between a longer way and more "
               "paved road.",
               width);
}

}  // namespace loamway
