// SPDX-License-Identifier: Apache-2.0
#include "options_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <span>

#include "loamway/base/names.h"
#include "words.h"

namespace loamway {

namespace {

using Figure = std::optional<double>;
using Cell = std::function<std::string(const Option&)>;  // empty: no figure

struct Row {
    std::string name;
    Cell cell;
};

std::string money(const Figure& v) {
    return v ? fmt::format("{:.0f}", *v) : std::string();
}

/// "12.4-24.9", or one figure when both ends print alike.
std::string range(const std::string& low, const std::string& high) {
    return low == high ? low : fmt::format("{}-{}", low, high);
}

class Rows {
public:
    explicit Rows(const Plan& plan) : m_plan(plan), m_units(plan.units) {}

    std::vector<Row> all() {
        way();
        time();
        cost();
        belts();
        // Commands and JSON know an option by its id.
        add("--option", [](const Option& o) { return printable(o.id); });
        return std::move(m_rows);
    }

private:
    void add(std::string name, Cell cell) { m_rows.push_back({std::move(name), std::move(cell)}); }
    void length(std::string_view name, Figure Option::*figure) {
        add(fmt::format("{} {}", name, m_units.long_unit()), [u = m_units, figure](const Option& o) {
            return o.*figure ? u.exact_number(*(o.*figure)) : std::string();
        });
    }
    /// A row that is only worth a line when some option has more than nothing of it.
    void length_if_any(std::string_view name, Figure Option::*figure) {
        const auto some = [figure](const Option& o) { return (o.*figure).value_or(0) >= 50; };
        if (std::any_of(m_plan.options.begin(), m_plan.options.end(), some))
            length(name, figure);
    }
    void cost_part(std::string_view name, Figure OptionCost::*figure) {
        const auto some = [figure](const Option& o) { return (o.cost.*figure).value_or(0) >= 0.5; };
        if (std::any_of(m_plan.options.begin(), m_plan.options.end(), some))
            add(fmt::format("  {}", name), [figure](const Option& o) { return money(o.cost.*figure); });
    }

    void way() {
        add("can be done", [](const Option& o) { return std::string(o.feasible ? "yes" : "no"); });
        length("driven", &Option::length_m);
        length("paved", &Option::hard_m);
        add(fmt::format("  at least-most {}", m_units.long_unit()), [u = m_units](const Option& o) {
            return o.hard_low_m && o.hard_high_m
                       ? range(u.exact_number(*o.hard_low_m), u.exact_number(*o.hard_high_m))
                       : std::string();
        });
        length("gravel", &Option::gravel_m);
        length("earth", &Option::earth_m);
        length_if_any("surface assumed", &Option::assumed_m);
        length_if_any("hauled", &Option::hauled_m);
        length_if_any("ferry", &Option::ferry_m);
    }
    void time() {
        add("stops", [](const Option& o) {
            return o.mode == Mode::haul || !o.length_m ? std::string()
                                                       : fmt::format("{}", stops_on_the_way(o));
        });
        add("time", [](const Option& o) {
            return o.duration_s ? format_duration(Duration::from_seconds(*o.duration_s)) : std::string();
        });
        add("leave", [&plan = m_plan](const Option& o) {
            return o.depart ? ClockWords(plan, o.depart).clock(o.depart) : std::string();
        });
        add("arrive", [&plan = m_plan](const Option& o) {
            return o.arrive ? ClockWords(plan, o.depart).clock(o.arrive) : std::string();
        });
    }
    void cost() {
        add(fmt::format("cost {}", currency()), [](const Option& o) { return money(o.cost.total); });
        if (std::any_of(m_plan.options.begin(), m_plan.options.end(),
                        [](const Option& o) { return o.cost.mean.has_value(); }))
            add("  mean of the trials", [](const Option& o) { return money(o.cost.mean); });
        add("  range", [](const Option& o) {
            return o.cost.low && o.cost.high ? range(money(o.cost.low), money(o.cost.high)) : std::string();
        });
        cost_part("labour", &OptionCost::labour);
        cost_part("fuel", &OptionCost::fuel);
        cost_part("belts", &OptionCost::belts);
        cost_part("machine", &OptionCost::machine);
        cost_part("powder", &OptionCost::lubricant);
        cost_part("escort", &OptionCost::escort);
        cost_part("low-bed", &OptionCost::truck);
        cost_part("permit", &OptionCost::permit);
        cost_part("other", &OptionCost::other);
    }
    void belts() {
        add("belt wear, % of a set", [](const Option& o) {
            return o.wear.share ? fmt::format("{:.2f}", *o.wear.share * 100) : std::string();
        });
        add("  range", [](const Option& o) {
            return o.wear.low && o.wear.high ? range(fmt::format("{:.2f}", *o.wear.low * 100),
                                                     fmt::format("{:.2f}", *o.wear.high * 100))
                                             : std::string();
        });
        add("  as field hours", [](const Option& o) {
            return o.wear.field_hours_equivalent ? fmt::format("{:.0f}", *o.wear.field_hours_equivalent)
                                                 : std::string();
        });
        add("bars up to, estimate", [u = m_units](const Option& o) {
            return o.heat && o.heat->bar_peak_c ? u.temperature(*o.heat->bar_peak_c) : std::string();
        });
        add("  may be as hot as", [u = m_units](const Option& o) {
            return o.heat && o.heat->bar_high_c ? u.temperature(*o.heat->bar_high_c) : std::string();
        });
        add("  their limit", [u = m_units](const Option& o) {
            return o.heat && o.heat->limit_c ? u.temperature(*o.heat->limit_c) : std::string();
        });
        add(fmt::format("fuel {}", m_units.volume_unit()),
            [u = m_units](const Option& o) { return o.fuel_l ? u.volume(*o.fuel_l) : std::string(); });
        add("  up to", [u = m_units](const Option& o) {
            return o.fuel_high_l ? u.volume(*o.fuel_high_l) : std::string();
        });
    }
    std::string currency() const {
        for (const Option& o : m_plan.options)
            if (!o.cost.currency.empty())
                return printable(o.cost.currency);
        return {};
    }

    const Plan& m_plan;
    UnitWords m_units;
    std::vector<Row> m_rows;
};

std::string block(const std::vector<Row>& rows, std::span<const Option* const> options, const Marks& marks) {
    AlignedTable table;
    std::vector<std::string> head{""};
    for (const Option* o : options)
        head.push_back(option_name(o->id));
    table.row(std::move(head));
    for (const Row& row : rows) {
        std::vector<std::string> cells{row.name};
        bool any = false;
        for (const Option* o : options) {
            const std::string cell = row.cell(*o);
            any = any || !cell.empty();
            cells.push_back(cell.empty() ? "-" : cell);
        }
        if (any)
            table.row(std::move(cells));
    }
    return table.text(marks);
}

/// Why mixing does not pay is a sentence below the table; a column of dashes says nothing.
std::vector<const Option*> columns(const Plan& plan) {
    std::vector<const Option*> out;
    for (const Option& o : plan.options)
        if (o.mode != Mode::mixed || o.length_m || plan.options.size() == 1)
            out.push_back(&o);
    return out;
}

}  // namespace

bool surfaces_differ(const Option& o) {
    constexpr double seen_m = 100;  // a tenth of a kilometre is what the table shows
    std::array<double, 3> shown{};
    for (const Leg& leg : o.legs)
        if (leg.mode == Mode::drive)
            for (const SurfaceRun& run : leg.surface_runs)
                shown[static_cast<std::size_t>(run.surface)] += run.to_m - run.from_m;
    const std::array<std::optional<double>, 3> expected{o.hard_m, o.gravel_m, o.earth_m};
    bool drawn = false, differs = false;
    for (std::size_t c = 0; c < shown.size(); ++c) {
        drawn = drawn || shown[c] > 0;
        differs = differs || (expected[c] && std::abs(*expected[c] - shown[c]) >= seen_m);
    }
    return drawn && differs;
}

std::string surfaces_note(const Plan& plan) {
    if (std::none_of(plan.options.begin(), plan.options.end(), surfaces_differ))
        return {};
    return fmt::format(
        "paved, gravel, earth: the {} to be expected, a road of unknown surface counting for each by its odds. Sheet, "
        "page and exports draw every piece as what it most likely is, as heat and wear take it.",
        plan.units == "imperial" ? "miles" : "kilometres");
}

std::string options_table(const Plan& plan, std::size_t width, const Marks& marks) {
    constexpr std::size_t name_columns = 24, figure_columns = 13;
    const std::size_t fit =
        width > name_columns + figure_columns ? (width - name_columns) / figure_columns : std::size_t{1};
    const std::vector<Row> rows = Rows(plan).all();
    const std::vector<const Option*> shown = columns(plan);
    const std::span<const Option* const> options(shown);
    std::string out;
    for (std::size_t i = 0; i < options.size(); i += fit)
        out += (out.empty() ? "" : "\n") +
               block(rows, options.subspan(i, std::min(fit, options.size() - i)), marks);
    return out;
}

}  // namespace loamway
