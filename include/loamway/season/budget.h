// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_BUDGET_H
#define LOAMWAY_SEASON_BUDGET_H

// What jobs will take: each move between them is planned on the region by the same planner as a single move,
// each hour in the field is counted. Belts go through the list as they would through the work: hours, powder
// and height carry over from job to job. Sums leave out a move that cannot be done and
// count the work it leads to. Bands of wear and of work in the field
// are one standard deviation of the wear rates (and assumed surfaces, and the upper line of fuel), those of a
// move's cost the planner's own; they are added up job by job, as one rate is wrong for all of them alike.

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/plan/plan.h"
#include "loamway/season/jobs.h"

namespace loamway {

struct BandSum {
    double value = 0.0, low = 0.0, high = 0.0;
    BandSum& operator+=(const BandSum& o) {
        value += o.value;
        low += o.low;
        high += o.high;
        return *this;
    }
};

/// Where money goes. `belts` are also told apart by cause in mm.
struct CostCauses {
    double labour = 0.0, fuel = 0.0, belts = 0.0, machine = 0.0, low_bed = 0.0, other = 0.0;
    CostCauses& operator+=(const CostCauses& o);
    [[nodiscard]] double total() const { return labour + fuel + belts + machine + low_bed + other; }
};
struct WearCauses {
    double paved = 0.0, gravel = 0.0, earth = 0.0, turns = 0.0, field = 0.0;  // mm
    WearCauses& operator+=(const WearCauses& o);
    [[nodiscard]] double total() const { return paved + gravel + earth + turns + field; }
};

/// Sums of one job, or of all.
struct BudgetSum {
    BandSum cost, wear_mm, wear_share, belt_money;
    double fuel_l = 0.0, fuel_high_l = 0.0;
    double road_cost = 0.0, field_cost = 0.0;
    Duration road, field;
    double driven_m = 0.0, paved_m = 0.0, hauled_m = 0.0;
    int stops = 0;
    CostCauses causes;
    WearCauses wear_causes;
    BudgetSum& operator+=(const BudgetSum& o);
};

struct JobBudget {
    std::string name, from, to;
    bool moves = false;  // from one place to another
    bool works = false;
    bool way_home = false;  // to the list's `finish`: nobody's job
    bool can_be_done = true;
    bool powder_first =
        false;  // although the interval was not over: it saves a stop, or makes the move possible
    std::vector<std::string> why_not;
    Mode mode = Mode::none;
    std::string option;                           // of the plan
    std::string sentence;                         // the plan's verdict
    std::optional<Instant> depart, arrive, ends;  // no arrival where the move cannot be done
    std::optional<double> hectares;
    std::optional<double> bar_peak_c, bar_high_c, limit_c;
    bool heat_calibrated = false;
    double price = 0.0;
    BudgetSum sum;
};

struct WhatIfResult {
    std::string name;
    BudgetSum sum;
    int not_done = 0;  // moves that cannot be done then
};

struct Budget {
    std::string title, machine, belts, currency, basis, ledger;
    std::string time_zone, map_date, region_name, attribution;
    std::vector<JobBudget> jobs;
    BudgetSum sum;
    double margin = 0.0, price = 0.0;
    std::vector<WhatIfResult> what_ifs;
    std::vector<std::string> to_confirm;  // where fields are entered was guessed
    std::vector<std::string> assumed;     // "field_load: 0.6 of the rated power"
    bool wear_calibrated = false;
    [[nodiscard]] int not_done() const;
};

/// Plans all moves. Errors as from prepare() and make_plan(), with the job's name in the message. `tick` is
/// called before each plan with what is done of all.
[[nodiscard]] Budget make_budget(const JobList& list, Instant at,
                                 const std::function<void(double)>& tick = {}, const KeptOpen& kept = {});

/// "loamway.budget/1": lengths in m, times in s, mm, shares, money in `currency`.
[[nodiscard]] Value budget_to_json(const Budget& budget);
/// One line a job, then the sum; comma-separated with a line of names.
[[nodiscard]] std::string budget_csv(const Budget& budget);
/// For a terminal or a text file.
[[nodiscard]] std::string budget_text(const Budget& budget);

/// What stands under every budget and quote.
[[nodiscard]] std::vector<std::string> budget_cautions(const Budget& budget);

}  // namespace loamway

#endif
