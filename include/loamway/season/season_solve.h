// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_SEASON_SOLVE_H
#define LOAMWAY_SEASON_SEASON_SOLVE_H

// The least-cost season: exactly, or as good as a search by taking out and putting back gets, with a bound
// that no season can cost less than. Pure functions; the same problem and options give the same answer
// unless a time limit ends the work.

#include <cstdint>
#include <functional>
#include <optional>

#include "loamway/base/units.h"
#include "loamway/season/season_timing.h"

namespace loamway {

struct ExactOptions {
    std::size_t most_labels = 600'000;    // gives up beyond; some 370 bytes each
    std::optional<SeasonSolution> known;  // nothing that costs as much is looked at
};
/// Builds up seasons task by task and drops each that another with the same jobs done and everybody at the
/// same places beats or equals in cost and every time; and each that cannot become cheaper than `known`.
/// Nothing when the labels run out. At most 64 jobs. When `known` cannot be beaten it comes back.
[[nodiscard]] std::optional<SeasonSolution> solve_exactly(const SeasonProblem& p,
                                                          const ExactOptions& options = {});

struct ImproveOptions {
    int rounds = 20'000;
    std::uint64_t seed = 1;
    std::optional<Duration> time_limit;  // with it the answer depends on the machine's speed
    std::function<void(double share)> progress;
};
/// Takes related jobs out of the season and puts them back where they cost least, those first that would
/// regret it most; keeps worse seasons now and then, less and less.
[[nodiscard]] SeasonSolution improve_season(const SeasonProblem& p, const ImproveOptions& options = {});

/// No season costs less. Jobs are joined to chains as if every move were made by whichever machine makes it
/// cheapest and low-beds were always at hand; chains that close on themselves are kept out, that each job is
/// left once is paid for by prices that a subgradient search raises the bound with.
[[nodiscard]] Cents lower_bound(const SeasonProblem& p, Cents known_cost, int rounds = 600);

struct SolvedSeason {
    SeasonSolution solution;
    Cents bound = 0;
    bool exact = false;
    /// (cost - bound) / cost; 0 where exact.
    [[nodiscard]] double gap() const {
        return exact || solution.cost <= 0
                   ? 0.0
                   : static_cast<double>(solution.cost - bound) / static_cast<double>(solution.cost);
    }
};
/// The search first; then exactly, where the jobs are few enough to try (`most_exact_jobs`), else the bound.
[[nodiscard]] SolvedSeason solve_season(const SeasonProblem& p, const ImproveOptions& options,
                                        int most_exact_jobs = 12);

}  // namespace loamway

#endif
