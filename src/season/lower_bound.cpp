// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "loamway/season/season_solve.h"
#include "priced_chains.h"

namespace loamway {

Cents lower_bound(const SeasonProblem& p, Cents known_cost, int rounds) {
    return p.jobs.empty() ? 0 : PricedChains(p, LeastCosts(p)).raise(known_cost, rounds);
}

SolvedSeason solve_season(const SeasonProblem& p, const ImproveOptions& options, int most_exact_jobs) {
    SolvedSeason out;
    out.solution = improve_season(p, options);
    if (p.job_count() <= std::min(most_exact_jobs, 64)) {
        ExactOptions exact;
        exact.known = out.solution;
        if (std::optional<SeasonSolution> best = solve_exactly(p, exact)) {
            out.solution = std::move(*best);
            out.bound = out.solution.cost;
            out.exact = true;
            return out;
        }
    }
    out.bound = lower_bound(p, out.solution.cost);
    return out;
}

}  // namespace loamway
