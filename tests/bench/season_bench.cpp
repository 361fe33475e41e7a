// SPDX-License-Identifier: Apache-2.0
// Seasons drawn at random, by size and rounds of the search: cost, the bound beneath it, and the time both
// take. The gap is given of the whole cost and of what is not work in the field, which every season pays.
#include <cstdio>
#include <cstdlib>

#include "bench/stopwatch.h"
#include "loamway/season/season_solve.h"
#include "season/county_season.h"

namespace {

using namespace loamway;

Cents least_field_work(const SeasonProblem& p) {
    Cents sum = 0;
    for (const SeasonJob& j : p.jobs) {
        Cents least = j.left_out;
        for (const SeasonWork& w : j.on)
            if (w.can)
                least = std::min(least, w.cost);
        sum += least;
    }
    return sum;
}

void row(int jobs, int machines, int low_beds, int rounds, bool exactly) {
    const SeasonProblem p = test::CountySeason(7, jobs, machines, low_beds).make();
    ImproveOptions options;
    options.rounds = rounds;
    SeasonSolution s;
    const double search = bench::seconds([&] { s = improve_season(p, options); });
    Cents bound = 0;
    const double bounding = bench::seconds([&] { bound = lower_bound(p, s.cost); });
    const auto share = [&](Cents of) {
        return 100.0 * static_cast<double>(s.cost - bound) / static_cast<double>(of);
    };
    std::printf("| %d x %d x %d | %d | %.2f | %.0f | %zu | %.0f | %.2f | %.2f %% | %.1f %% |", jobs, machines,
                low_beds, rounds, search, static_cast<double>(s.cost) / 100, s.left_out.size(),
                static_cast<double>(bound) / 100, bounding, share(s.cost),
                share(s.cost - least_field_work(p)));
    if (exactly) {
        std::optional<SeasonSolution> best;
        ExactOptions known;
        known.known = s;
        const double exact = bench::seconds([&] { best = solve_exactly(p, known); });
        std::printf(best ? " %.0f in %.2f s |\n" : " gave up %.0f in %.2f s |\n",
                    best ? static_cast<double>(best->cost) / 100 : 0.0, exact);
    } else {
        std::printf(" - |\n");
    }
    std::fflush(stdout);
}

}  // namespace

int main() {
    std::printf(
        "| jobs x machines x low-beds | rounds | search s | cost | left out | bound | bound s | gap | gap of what is not field work | exactly |\n"
        "|---|---|---|---|---|---|---|---|---|---|\n");
    row(8, 2, 1, 4000, true);
    row(12, 1, 1, 4000, true);
    row(12, 2, 1, 4000, true);
    row(30, 3, 2, 10000, false);
    row(60, 4, 2, 2000, false);
    row(60, 4, 2, 10000, false);
    row(60, 4, 2, 40000, false);
    row(120, 8, 4, 10000, false);
}
