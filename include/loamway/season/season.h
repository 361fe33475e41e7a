// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_SEASON_H
#define LOAMWAY_SEASON_SEASON_H

// A season on a real map: every move that may matter is planned as a single one would be, the least-cost
// season is found in the matrix of their figures (season_problem.h says what it means), and the moves it is
// made of are planned again at their own hours with the belts as they are by then. Where those figures differ
// from what was counted with, they take their place and the season is found again, a few times; what is left
// is said.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "loamway/season/budget.h"
#include "loamway/season/season_list.h"
#include "loamway/season/season_solve.h"

namespace loamway {

struct SeasonMove {
    Mode mode = Mode::none;  // none: the machine is there already
    std::string from, to;
    Instant leave, arrive;
    double cost = 0, low_bed_cost = 0;  // the second is not in the first
    double driven_m = 0, paved_m = 0, hauled_m = 0;
    int stops = 0;
    bool powder_first = false;
    std::optional<double> bar_high_c, limit_c;
    std::string option;
    std::shared_ptr<const Plan> plan;  // none where nothing moves
};

/// A move and the job at its end, or the way home.
struct SeasonEntry {
    std::size_t machine = 0;
    std::optional<std::size_t> job;
    SeasonMove move;
    std::optional<std::size_t> trip;  // of a low-bed
    Instant begin, end;               // of the work
    double field_cost = 0;
};

struct LowBedTrip {
    std::size_t low_bed = 0;
    std::optional<std::size_t> entry;  // none: the run back to the base
    std::string from, pick_up, drop;
    Instant leaves, there, busy_from, free;  // of a run back: leaves and there
    double cost = 0;
};

struct JobLeftOut {
    std::size_t job = 0;
    std::vector<std::string> reasons;
};

struct Season {
    SeasonList list;
    std::string currency, basis, time_zone, map_date, region_name, attribution;
    std::vector<SeasonEntry> entries;  // machine by machine, in time
    std::vector<LowBedTrip> trips;     // low-bed by low-bed, in time
    std::vector<JobLeftOut> left_out;
    double total = 0, field = 0, moves = 0, low_beds = 0;  // the first is the sum of the others
    CostCauses causes;
    double wear_share = 0, fuel_l = 0;
    std::optional<double> bound, gap;  // none where jobs are left out
    bool exact = false;
    std::optional<double> without_rules;  // what it would cost without fix and exclude, when asked
    int rounds = 0;                       // of solving and planning again
    std::size_t moves_planned = 0;
    std::size_t pairs_left_out = 0;  // of places too far apart to be looked at
    std::vector<std::string> to_confirm, warnings;
    Instant begins, ends;
};

struct SeasonOptions {
    ImproveOptions search;
    int most_rounds = 6;
    unsigned threads = 0;           // 0: as many as the machine runs at once; the answer is the same
    bool compare = false;           // with the season without fix and exclude
    std::size_t most_moves = 6000;  // planned for the matrix; beyond, places far from each other are left out
    std::function<void(std::string_view step, double share)> progress;
};

[[nodiscard]] Season make_season(const SeasonList& list, Instant at, const SeasonOptions& options = {},
                                 const KeptOpen& kept = {});

/// "loamway.season/1".
[[nodiscard]] Value season_to_json(const Season& season);
/// Hours by machine and by low-bed, costs, bound, warnings, cautions.
[[nodiscard]] std::string season_text(const Season& season);
/// Plans of the moves of each day, with the day: "2026-07-14".
[[nodiscard]] std::vector<std::pair<std::string, std::vector<Plan>>> day_plans(const Season& season);
[[nodiscard]] std::vector<std::string> season_cautions(const Season& season);

}  // namespace loamway

#endif
