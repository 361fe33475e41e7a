// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "budget_words.h"
#include "loamway/base/names.h"
#include "loamway/report/layout.h"
#include "season_hours.h"

namespace loamway {

namespace {

constexpr std::size_t text_width = 100;

std::string lines(const std::string& first, const std::string& text) {
    return wrapped(first, text, text_width);
}

std::string hours_text(const Season& s, const std::vector<Hours>& hours) {
    const TimeZone zone = zone_of_season(s);
    std::string out, day;
    for (const Hours& h : hours) {
        if (const std::string d = day_words(s, h.from); d != day) {
            out += fmt::format("  {}\n", d);
            day = d;
        }
        out += lines(fmt::format("    {}-{}  ", format_clock(h.from, zone), format_clock(h.to, zone)),
                     printable(h.text));
    }
    return out.empty() ? "  nothing\n" : out;
}

std::string left_out_text(const Season& s) {
    std::string out;
    for (const JobLeftOut& j : s.left_out) {
        out += lines("Cannot be done: ", printable(s.list.jobs[j.job].field.name));
        for (const std::string& why : j.reasons)
            out += lines("  - ", printable(why));
    }
    return out.empty() ? out : "\n" + out;
}

std::string costs_text(const Season& s) {
    std::string out;
    for (const auto& [name, value] : cost_causes(s.causes))
        out += fmt::format("{}{} {:.0f}", out.empty() ? "" : ", ", name, value);
    out += fmt::format("; {:.2f} % of a set of belts, {:.0f} l of fuel", 100 * s.wear_share, s.fuel_l);
    std::string text = lines("Cost    ", out);
    text += lines("Bound   ", bound_words(s));
    if (s.without_rules)
        text += lines("Rules   ",
                      fmt::format("without fix and exclude {:.0f} {}: they cost {:.0f}", *s.without_rules,
                                  printable(s.currency), s.total - *s.without_rules));
    return text;
}

std::string moves_text(const Season& s) {
    std::string out;
    for (std::size_t m = 0; m < s.list.machines.size(); ++m)
        for (const SeasonEntry& e : s.entries)
            if (e.machine == m && e.move.plan != nullptr)
                out += fmt::format("  {:<14} {:>8.0f} {:>8.0f}  {:>12}  {}\n",
                                   printable(s.list.machines[m].name).substr(0, 14), e.move.cost,
                                   e.move.low_bed_cost,
                                   e.move.bar_high_c && e.move.limit_c && e.move.mode != Mode::haul
                                       ? fmt::format("{:.0f} of {:.0f}", *e.move.bar_high_c, *e.move.limit_c)
                                       : "-",
                                   printable(way_words(e.move) + " to " + e.move.to));
    if (out.empty())
        return out;
    return fmt::format("\nMoves\n  {:<14} {:>8} {:>8}  {:>12}\n", "machine", "cost", "low-bed",
                       "bars \xC2\xB0"
                       "C of") +
           out;
}

}  // namespace

std::string season_text(const Season& s) {
    std::string out;
    if (!s.list.title.empty())
        out += printable(s.list.title) + "\n";
    out += lines("", season_headline(s) + ".") + "\n" + costs_text(s) + left_out_text(s);
    for (std::size_t m = 0; m < s.list.machines.size(); ++m)
        out +=
            fmt::format("\n{}\n", printable(s.list.machines[m].name)) + hours_text(s, hours_of_machine(s, m));
    for (std::size_t b = 0; b < s.list.low_beds.size(); ++b)
        out += fmt::format("\n{} (low-bed)\n", printable(s.list.low_beds[b].name)) +
               hours_text(s, hours_of_low_bed(s, b));
    out += moves_text(s);
    if (!s.to_confirm.empty() || !s.warnings.empty())
        out += "\nLook at\n";
    for (const std::string& what : s.warnings)
        out += lines("  - ", printable(what));
    for (const std::string& what : s.to_confirm)
        out += lines("  - ", printable(what));
    out += "\nBasis\n";
    for (const std::string& what : season_basis(s))
        out += lines("  - ", what);
    out += "\nCautions\n";
    for (const std::string& caution : season_cautions(s))
        out += lines("  - ", caution);
    return out + fmt::format("\nMap {}{}. {}\n", printable(s.region_name),
                             s.map_date.empty() ? "" : " of " + printable(s.map_date).substr(0, 10),
                             printable(s.attribution));
}

}  // namespace loamway
