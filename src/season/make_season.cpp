// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/names.h"
#include "loamway/plan/cautions.h"
#include "loamway/season/season.h"
#include "season_plans.h"
#include "season_result.h"

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// A difference that is one of rounding alone.
bool same_figures(const SeasonWay& a, const SeasonWay& b) {
    return a.minutes == b.minutes && std::abs(a.cost - b.cost) <= 1 &&
           std::abs(a.low_bed_cost - b.low_bed_cost) <= 1 && a.load_after == b.load_after &&
           a.low_bed_minutes == b.low_bed_minutes;
}

class SeasonMaker {
public:
    SeasonMaker(const SeasonList& list, Instant at, const SeasonOptions& options, const KeptOpen& kept)
        : m_options(options), m_desk(list, at, kept), m_matrix(m_desk, options) {
        m_search = options.search;
        if (list.jobs.size() <= most_exact)
            m_search.rounds = std::min(m_search.rounds, 3000);
    }

    Season run() {
        bool agreed = false;
        while (!agreed && m_round < m_options.most_rounds) {
            ++m_round;
            find();
            plan();
            agreed = take_differences() == 0;
        }
        if (!agreed)
            settle();
        SeasonFound found{m_desk, m_matrix, *m_problem, m_solved, m_times, m_plans, m_round, m_warnings};
        Season out = season_result(found);
        if (m_options.compare)
            out.without_rules = cost_without_rules();
        return out;
    }

private:
    static constexpr std::size_t most_exact = 12;

    void find() {
        m_problem.emplace(m_matrix.problem(true));
        if (m_options.progress)
            m_options.progress("finding the season", 0);
        m_solved = solve_season(*m_problem, m_search, m_exact_jobs);
        // What was too much to be compared once is so every time.
        if (!m_solved.exact)
            m_exact_jobs = 0;
        (void)time_all(*m_problem, m_solved.solution, &m_times);
    }
    void plan() {
        if (m_options.progress)
            m_options.progress("planning the season's moves", 0);
        m_plans = plan_tasks(m_desk, *m_problem, m_solved.solution, m_times, m_options.threads, m_kept);
    }

    /// Puts what the planner says of a move at its hour in the place of what was counted with; how many.
    int take_differences() {
        int different = 0;
        for_each_move([&](std::size_t i, const MoveOf& move, const SeasonWay& counted) {
            const std::optional<MatrixWay>& now = m_plans[i].way;
            if (now && same_figures(now->way, counted))
                return;
            ++different;
            m_matrix.replace(move, counted.kind, counted.low_bed, now);
        });
        return different;
    }

    /// The season that was found last, with the figures of its own moves; hours move a little, and the moves
    /// are planned for them once more.
    void settle() {
        for (int again = 0; again < 3; ++again) {
            SeasonProblem p = m_matrix.problem(true);
            SeasonSolution s = same_choices(p);
            std::vector<TaskTimes> times;
            if (s.tasks.empty() != m_solved.solution.tasks.empty() || !time_all(p, s, &times)) {
                m_warnings.push_back(
                    "A move of this season cannot be made at its hour as it was counted: see there.");
                return;
            }
            m_problem.emplace(std::move(p));
            m_solved.solution = std::move(s);
            m_times = std::move(times);
            plan();
            if (take_differences() == 0) {
                bound_again();
                return;
            }
        }
        bound_again();
        m_warnings.push_back(
            "Hours of moves still changed a little when they were planned again: figures of a move may be those of "
            "an hour close by.");
    }

    /// Beneath the figures as they are now, which are no longer those the season was found with.
    void bound_again() {
        const SolvedSeason best = solve_season(*m_problem, m_search, m_exact_jobs);
        m_solved.bound = std::min(best.bound, m_solved.solution.cost);
        m_solved.exact = best.exact && best.solution.cost == m_solved.solution.cost;
    }

    /// The same tasks among the ways of another problem; nothing when one is gone.
    SeasonSolution same_choices(const SeasonProblem& p) {
        SeasonSolution s = m_solved.solution;
        bool gone = false;
        for_each_move([&](std::size_t i, const MoveOf& move, const SeasonWay& counted) {
            const std::vector<SeasonWay>& ways = p.ways(static_cast<int>(move.machine), move.from, move.to);
            const auto found = std::find_if(ways.begin(), ways.end(), [&](const SeasonWay& w) {
                return w.kind == counted.kind && w.low_bed == counted.low_bed;
            });
            gone = gone || found == ways.end();
            if (found != ways.end())
                s.tasks[i].way = static_cast<int>(found - ways.begin());
        });
        if (gone)
            s.tasks.clear();
        return s;
    }

    template <class Do>
    void for_each_move(Do&& what) {
        std::vector<int> here;
        for (const SeasonMachine& m : m_problem->machines)
            here.push_back(m.start);
        for (std::size_t i = 0; i < m_solved.solution.tasks.size(); ++i) {
            const SeasonTask& task = m_solved.solution.tasks[i];
            const int from = here[at(task.machine)], to = place_of(*m_problem, task);
            here[at(task.machine)] = to;
            if (task.way == no_way_needed || m_plans[i].plan == nullptr)
                continue;
            what(i, MoveOf{at(task.machine), from, to},
                 m_problem->ways(task.machine, from, to)[at(task.way)]);
        }
    }

    double cost_without_rules() {
        const SeasonProblem p = m_matrix.problem(false);
        return static_cast<double>(solve_season(p, m_search, m_exact_jobs).solution.cost) / 100;
    }

    const SeasonOptions& m_options;
    SeasonDesk m_desk;
    SeasonMatrix m_matrix;
    ImproveOptions m_search;
    int m_exact_jobs = static_cast<int>(most_exact);
    std::optional<SeasonProblem> m_problem;
    SolvedSeason m_solved;
    std::vector<TaskTimes> m_times;
    std::vector<PlannedMove> m_plans;
    PlansKept m_kept;
    std::vector<std::string> m_warnings;
    int m_round = 0;
};

}  // namespace

Season make_season(const SeasonList& list, Instant at, const SeasonOptions& options, const KeptOpen& kept) {
    return SeasonMaker(list, at, options, kept).run();
}

}  // namespace loamway
