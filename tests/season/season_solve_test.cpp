// SPDX-License-Identifier: Apache-2.0
// The bare question of a season: worked examples, everything tried on small cases, bounds.
#include "loamway/season/season_solve.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "county_season.h"
#include "plain_season.h"
#include "random_season.h"

namespace loamway {
namespace {

using test::PlainSeason;
using test::RandomSeason;
using test::RandomSeasonSize;

RandomSeasonSize small_size(int seed) {
    RandomSeasonSize s;
    s.machines = 1 + seed % 2;
    s.low_beds = 1 + seed / 2 % 2;
    s.jobs = s.machines == 2 ? 2 + seed % 3 : 2 + seed % 4;
    return s;
}

TEST(SolveSeason, CostsWhatTryingEverythingFindsOn300SmallCases) {
    int found_by_search = 0, all_done = 0, hauled = 0, shared = 0;
    for (int seed = 1; seed <= 300; ++seed) {
        RandomSeason random(static_cast<std::uint64_t>(seed), small_size(seed));
        const std::vector<WorkMinute> days = random.day_ends();
        const SeasonProblem p = random.make(days);
        const Cents least = PlainSeason(p, days).least();
        std::optional<SeasonSolution> exact = solve_exactly(p);
        ASSERT_TRUE(exact) << seed;
        ASSERT_EQ(exact->cost, least) << seed;
        ASSERT_TRUE(time_all(p, *exact)) << seed;
        EXPECT_EQ(exact->cost, least) << "seed " << seed << ": what the tasks cost";
        ImproveOptions options;
        options.rounds = 300;
        const SeasonSolution searched = improve_season(p, options);
        EXPECT_GE(searched.cost, least) << seed;
        EXPECT_LE(lower_bound(p, searched.cost), least) << seed;
        found_by_search += searched.cost == least ? 1 : 0;
        ExactOptions known;
        known.known = searched;
        EXPECT_EQ(solve_exactly(p, known)->cost, least) << seed;
        all_done += exact->left_out.empty() ? 1 : 0;
        int trips = 0;
        std::vector<TaskTimes> times;
        (void)time_all(p, *exact, &times);
        for (const TaskTimes& t : times)
            trips += t.low_bed_there >= 0 ? 1 : 0;
        hauled += trips > 0 ? 1 : 0;
        shared += trips > 1 ? 1 : 0;
    }
    EXPECT_GE(found_by_search, 285);
    // The cases must be worth trying: most can be done, many not, low-beds go from one move to the next.
    EXPECT_GT(all_done, 100);
    EXPECT_LT(all_done, 290);
    EXPECT_GT(hauled, 100);
    EXPECT_GT(shared, 50);
}

/// The shortest tour home over all fields by driving alone, jobs without windows: Bellman, Held and Karp.
Cents least_tour(const SeasonProblem& p) {
    const int n = p.job_count();
    const auto driven = [&](int from, int to) {
        Cents least = 1'000'000'000;
        for (const SeasonWay& w : p.ways(0, from, to))
            if (w.kind == WayKind::driven)
                least = std::min(least, w.cost);
        return least;
    };
    const auto place = [&](int j) { return p.jobs[static_cast<std::size_t>(j)].place; };
    std::vector<std::vector<Cents>> best(std::size_t{1} << n,
                                         std::vector<Cents>(static_cast<std::size_t>(n), 1'000'000'000));
    Cents work = 0, least = 1'000'000'000;
    for (int j = 0; j < n; ++j) {
        best[std::size_t{1} << j][static_cast<std::size_t>(j)] = driven(p.machines[0].start, place(j));
        work += p.jobs[static_cast<std::size_t>(j)].on[0].cost;
    }
    for (std::size_t done = 1; done < best.size(); ++done)
        for (int i = 0; i < n; ++i)
            for (int j = 0; j < n; ++j)
                if ((done >> i & 1) != 0 && (done >> j & 1) == 0) {
                    Cents& there = best[done | std::size_t{1} << j][static_cast<std::size_t>(j)];
                    there =
                        std::min(there, best[done][static_cast<std::size_t>(i)] + driven(place(i), place(j)));
                }
    for (int j = 0; j < n; ++j)
        least =
            std::min(least, best.back()[static_cast<std::size_t>(j)] + driven(place(j), p.machines[0].home));
    return least + work;
}

TEST(SolveSeason, TwelveJobsOfOneMachineAreTheBestTour) {
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        SeasonProblem p = test::CountySeason(seed, 12, 1, 1).make();
        p.machines[0].home = p.machines[0].start;
        for (SeasonJob& j : p.jobs) {
            j.earliest = 0;
            j.latest = p.end();
            j.kinds = bit_of(WayKind::driven);
        }
        for (const SeasonJob& j : p.jobs)
            std::erase_if(p.ways(0, j.place, p.machines[0].home),
                          [](const SeasonWay& w) { return w.kind != WayKind::driven; });
        const Cents tour = least_tour(p);
        const std::optional<SeasonSolution> exact = solve_exactly(p);
        ASSERT_TRUE(exact);
        ASSERT_LT(tour, 100'000'000) << "all can be done";
        EXPECT_EQ(exact->cost, tour) << seed;
        EXPECT_LE(lower_bound(p, exact->cost), exact->cost);
    }
}

TEST(SolveSeason, TwelveJobsWithWindowsAndALowBedInReach) {
    const SeasonProblem p = test::CountySeason(7, 12, 1, 1).make();
    ImproveOptions options;
    options.rounds = 1500;
    ExactOptions known;
    known.known = improve_season(p, options);
    const std::optional<SeasonSolution> exact = solve_exactly(p, known);
    ASSERT_TRUE(exact);
    EXPECT_TRUE(exact->left_out.empty());
    EXPECT_LE(exact->cost, known.known->cost);
    EXPECT_LE(lower_bound(p, exact->cost), exact->cost);
}

TEST(SolveSeason, ManyJobsKeepTheirBoundAndTheirAnswer) {
    const SeasonProblem p = test::CountySeason(11, 40, 3, 2).make();
    ImproveOptions options;
    options.rounds = 600;
    const SolvedSeason a = solve_season(p, options), b = solve_season(p, options);
    EXPECT_FALSE(a.exact);
    EXPECT_EQ(a.solution.tasks, b.solution.tasks);
    EXPECT_LE(a.bound, a.solution.cost);
    EXPECT_TRUE(a.solution.left_out.empty());
    // Far from the bound something is broken; what is reached is measured in tests/bench.
    EXPECT_LT(a.gap(), 0.12);
    SeasonSolution again = a.solution;
    ASSERT_TRUE(time_all(p, again));
    EXPECT_EQ(again.cost, a.solution.cost);
    options.rounds = 2400;
    EXPECT_LT(improve_season(p, options).cost, a.solution.cost + a.solution.cost / 100);
}

}  // namespace
}  // namespace loamway
