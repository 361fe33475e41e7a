// SPDX-License-Identifier: Apache-2.0
#include "budget_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/names.h"

namespace loamway {

namespace {

std::vector<std::pair<std::string, double>> largest_first(std::vector<std::pair<std::string, double>> all) {
    std::erase_if(all, [](const auto& one) { return !(one.second > 0); });
    std::stable_sort(all.begin(), all.end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
    return all;
}

}  // namespace

std::string move_words(const JobBudget& j) {
    if (!j.moves)
        return "stays";
    if (!j.can_be_done)
        return "cannot be done";
    const BudgetSum& s = j.sum;
    const std::string time = format_duration(s.road);
    if (j.mode == Mode::haul)
        return fmt::format("haul {:.0f} km, {}", s.hauled_m / 1000, time);
    const std::string stops =
        s.stops == 0 ? "" : fmt::format(", {} stop{}", s.stops, s.stops == 1 ? "" : "s");
    if (j.mode == Mode::mixed)
        return fmt::format("drive {:.0f} km and haul {:.0f}{}, {}", s.driven_m / 1000, s.hauled_m / 1000,
                           stops, time);
    return fmt::format("drive {:.0f} km ({:.0f} paved){}, {}", s.driven_m / 1000, s.paved_m / 1000, stops,
                       time);
}

std::string moment_words(const Budget& b, const std::optional<Instant>& t) {
    if (!t)
        return "-";
    const TimeZone zone = b.time_zone.empty() ? TimeZone() : TimeZone(b.time_zone);
    const Instant nearest{t->unix_seconds + 30};  // as the clock's minute
    return fmt::format("{} {}", format_rfc3339(nearest, zone).substr(0, 10), format_clock(*t, zone));
}

std::string basis_words(std::string_view basis) {
    return basis == "full" ? "Full cost: the machine's price, interest, insurance and housing by the hour"
                           : "Marginal cost: what these jobs cost on top of owning the machine";
}

std::string heat_words_of(const JobBudget& j) {
    if (!j.bar_high_c || !j.limit_c)
        return "-";
    return fmt::format("{:.0f} of {:.0f}", *j.bar_high_c, *j.limit_c);
}

std::vector<std::pair<std::string, double>> cost_causes(const CostCauses& c) {
    return largest_first({{"labour", c.labour},
                          {"fuel", c.fuel},
                          {"belts", c.belts},
                          {"machine", c.machine},
                          {"low-bed", c.low_bed},
                          {"other", c.other}});
}

std::vector<std::pair<std::string, double>> wear_causes(const WearCauses& w) {
    return largest_first({{"field", w.field},
                          {"paved road", w.paved},
                          {"gravel", w.gravel},
                          {"earth", w.earth},
                          {"sharp turns", w.turns}});
}

std::string band_words(const Budget& b) {
    return fmt::format(
        "Ranges: of wear and of the work in the field one standard deviation of the wear rates ({}), roads of unknown "
        "surface as soft and as paved, the upper line of fuel; of what a move costs 10 and 90 in 100 of the planner's "
        "trials. Ranges of jobs are added, as one rate is wrong for all alike.",
        b.wear_calibrated ? "calibrated by heights measured" : "assumption");
}

std::string per_hectare_words(const Budget& b, const JobBudget& j) {
    if (!j.hectares || !(*j.hectares > 0) || !j.can_be_done)
        return {};
    return fmt::format(" at {:.2f} {} per ha", j.price / *j.hectares, printable(b.currency));
}

std::string more_words(const Budget& b, const BudgetSum& then, int not_done) {
    return not_done == b.not_done() ? fmt::format("{:+.0f}", then.cost.value - b.sum.cost.value) : "-";
}

std::string headline(const Budget& b) {
    const BudgetSum& s = b.sum;
    const auto ways_home =
        std::count_if(b.jobs.begin(), b.jobs.end(), [](const JobBudget& j) { return j.way_home; });
    const auto jobs = static_cast<std::ptrdiff_t>(b.jobs.size()) - ways_home;
    std::string out =
        fmt::format("{} job{}{}: {:.0f} h in the field, {} on the road", jobs, jobs == 1 ? "" : "s",
                    ways_home > 0 ? " and the way home" : "", s.field.hours(), format_duration(s.road));
    out += fmt::format(
        "; {:.2f} % of a set of belts ({:.2f} to {:.2f}), {:.0f} l of fuel; cost {:.0f} {} ({:.0f} to "
        "{:.0f})",
        100 * s.wear_share.value, 100 * s.wear_share.low, 100 * s.wear_share.high, s.fuel_l, s.cost.value,
        printable(b.currency), s.cost.low, s.cost.high);
    if (b.margin > 0)
        out += fmt::format(", price {:.0f} with {:g} % on top", b.price, 100 * b.margin);
    if (b.not_done() > 0)
        out += ". " + not_done_words(b);
    return out;
}

std::string not_done_words(const Budget& b) {
    const int n = b.not_done();
    return n == 0
               ? std::string()
               : fmt::format("{} move{} cannot be done and {} left out of the sums, the work there counted",
                             n, n == 1 ? "" : "s", n == 1 ? "is" : "are");
}

std::vector<std::string> budget_cautions(const Budget& b) {
    std::vector<std::string> out{
        "Wear, heat, fuel and cost are estimates, not measurements, and no evidence of a belt's condition. Belts also "
        "end by guide lugs, cord, cuts and delamination, which no budget foresees.",
        "Each move is to be planned again on its day: weather, ground, closures and the belts' state decide. Local "
        "codes, the road authority, the makers' manuals and licensed people decide what may be driven or hauled.",
    };
    if (!b.wear_calibrated)
        out.push_back(
            "Every wear rate is an assumption until heights of the bars have been measured and noted in the ledger.");
    return out;
}

}  // namespace loamway
