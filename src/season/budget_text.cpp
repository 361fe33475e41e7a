// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "budget_words.h"
#include "loamway/base/names.h"
#include "loamway/report/layout.h"

namespace loamway {

namespace {

constexpr std::size_t text_width = 100;

std::string lines(const std::string& first, const std::string& text) {
    return wrapped(first, text, text_width);
}

std::string cut(const std::string& text, std::size_t columns) {
    const std::string shown = printable(text);
    if (shown.size() <= columns)
        return shown;
    // Not in the middle of a character.
    std::size_t end = columns - 2;
    while (end > 0 && (static_cast<unsigned char>(shown[end]) & 0xC0) == 0x80)
        --end;
    return shown.substr(0, end) + "..";
}

std::string row(const std::string& name, const std::string& move, const std::string& heat, const BudgetSum& s,
                double price) {
    return fmt::format(
        "  {:<20} {:<44} {:>7.1f} {:>6.0f} {:>7.3f} {:>6.2f} {:>10} {:>8.0f} {:>8.0f} {:>8.0f}\n",
        cut(name, 20), cut(move, 44), s.field.hours(), s.fuel_l, s.wear_mm.value, 100 * s.wear_share.value,
        heat, s.belt_money.value, s.cost.value, price);
}

std::string jobs_table(const Budget& b) {
    std::string out = fmt::format("  {:<20} {:<44} {:>7} {:>6} {:>7} {:>6} {:>10} {:>8} {:>8} {:>8}\n", "job",
                                  "move", "field h", "fuel l", "wear mm", "set %",
                                  "bars \xC2\xB0"
                                  "C",
                                  "belts", "cost", "price");
    for (const JobBudget& j : b.jobs)
        out += row(j.name, move_words(j), heat_words_of(j), j.sum, j.price);
    const BudgetSum& s = b.sum;
    out += row("sum",
               fmt::format("{:.0f} km driven, {:.0f} hauled, {}", s.driven_m / 1000, s.hauled_m / 1000,
                           format_duration(s.road)),
               "", s, b.price);
    out += fmt::format("  {:<20} {:<44} {:>7} {:>6} {:>7.3f} {:>6.2f} {:>10} {:>8.0f} {:>8.0f}\n", "  from",
                       "", "", "", s.wear_mm.low, 100 * s.wear_share.low, "", s.belt_money.low, s.cost.low);
    out += fmt::format("  {:<20} {:<44} {:>7} {:>6.0f} {:>7.3f} {:>6.2f} {:>10} {:>8.0f} {:>8.0f}\n", "  to",
                       "", "", s.fuel_high_l, s.wear_mm.high, 100 * s.wear_share.high, "", s.belt_money.high,
                       s.cost.high);
    return out;
}

std::string causes_text(const Budget& b) {
    const auto list = [](const std::vector<std::pair<std::string, double>>& causes, double all) {
        std::string out;
        for (const auto& [name, value] : causes)
            out += fmt::format("{}{} {:.0f} %", out.empty() ? "" : ", ", name,
                               all > 0 ? 100 * value / all : 0.0);
        return out;
    };
    std::string out = lines("Cost  ", list(cost_causes(b.sum.causes), b.sum.causes.total()));
    return out + lines("Wear  ", list(wear_causes(b.sum.wear_causes), b.sum.wear_causes.total()));
}

std::string what_ifs_text(const Budget& b) {
    if (b.what_ifs.empty())
        return {};
    std::string out = fmt::format("\nWhat if\n  {:<34} {:>8} {:>8} {:>8} {:>9} {:>7} {:>9}\n", "", "cost",
                                  "more", "set %", "driven km", "fuel l", "not done");
    const auto line = [&](const std::string& name, const BudgetSum& s, int not_done) {
        out += fmt::format("  {:<34} {:>8.0f} {:>8} {:>8.2f} {:>9.0f} {:>7.0f} {:>9}\n", cut(name, 34),
                           s.cost.value, more_words(b, s, not_done), 100 * s.wear_share.value,
                           s.driven_m / 1000, s.fuel_l, not_done == 0 ? "-" : fmt::format("{}", not_done));
    };
    line("as written", b.sum, b.not_done());
    for (const WhatIfResult& w : b.what_ifs)
        line(w.name, w.sum, w.not_done);
    return out;
}

std::string days_text(const Budget& b) {
    std::string out = "\nDays\n";
    for (const JobBudget& j : b.jobs) {
        if (j.moves && j.can_be_done)
            out += fmt::format("  {}  {}leave {}, arrive {}\n", moment_words(b, j.depart),
                               j.powder_first ? "powder, then " : "", cut(j.from, 40),
                               moment_words(b, j.arrive).substr(11));
        if (j.works)
            out += fmt::format(
                "  {}  {} at {}{}, done {}\n", moment_words(b, j.arrive ? j.arrive : j.depart),
                cut(j.name, 40), cut(j.to, 40),
                j.hectares ? fmt::format(", {:g} ha{}", *j.hectares, per_hectare_words(b, j)) : "",
                moment_words(b, j.ends));
        for (const std::string& why : j.why_not)
            out += lines("    cannot be done: ", printable(why));
    }
    return out;
}

}  // namespace

std::string budget_text(const Budget& b) {
    std::string out;
    if (!b.title.empty())
        out += printable(b.title) + "\n";
    out += lines("", headline(b) + ".");
    out += fmt::format("\nMachine {}; belts {}\n", printable(b.machine), printable(b.belts));
    if (!b.ledger.empty())
        out += fmt::format("Ledger  {}\n", printable(b.ledger));
    out += fmt::format("Basis   {}; money in {}\n\n", basis_words(b.basis), printable(b.currency));
    out += jobs_table(b) + "\n" + causes_text(b) + what_ifs_text(b) + days_text(b);
    if (!b.to_confirm.empty())
        out += "\nTo confirm\n";
    for (const std::string& what : b.to_confirm)
        out += lines("  - ", printable(what));
    std::string assumed;
    for (const std::string& a : b.assumed)
        assumed += fmt::format("{}{}", assumed.empty() ? "" : "; ", printable(a));
    out += "\n" + lines("Assumed, because nobody said: ", assumed);
    out += "\n" + lines("", band_words(b)) + "\nCautions\n";
    for (const std::string& caution : budget_cautions(b))
        out += lines("  - ", caution);
    return out + fmt::format("\nMap {}{}. {}\n", printable(b.region_name),
                             b.map_date.empty() ? "" : " of " + printable(b.map_date).substr(0, 10),
                             printable(b.attribution));
}

}  // namespace loamway
