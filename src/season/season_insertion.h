// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_INSERTION_H
#define LOAMWAY_SRC_SEASON_SEASON_INSERTION_H

// Taking jobs out of a season and putting one in where it costs least: the hands of the search.

#include <vector>

#include "loamway/season/season_timing.h"
#include "season_least.h"

namespace loamway {

/// Cost of a list of tasks without what is left out; no_cost when it cannot be done.
[[nodiscard]] Cents cost_of_tasks(const SeasonProblem& p, const std::vector<SeasonTask>& tasks);

struct Insertion {
    Cents cost = no_cost;    // of the whole list then
    Cents second = no_cost;  // of the best at another machine or between other jobs
    std::vector<SeasonTask> tasks;
};

/// One object a thread; keeps references.
class Inserter {
public:
    Inserter(const SeasonProblem& p, const LeastCosts& least) : m_p(p), m_least(least) {}

    /// The best place for a job that the list does not have, `chance` picking positions that only matter to
    /// low-beds. Candidates are tried from the cheapest guess on, until no guess is as cheap as what was
    /// found.
    void find(const std::vector<SeasonTask>& tasks, int job, std::uint64_t chance, Insertion& out);
    /// The list without the jobs marked; false when what is left cannot be joined up.
    [[nodiscard]] bool remove(std::vector<SeasonTask>& tasks, const std::vector<bool>& jobs) const;

private:
    struct Candidate {
        Cents guess;
        int machine;
        int position;  // the task goes before this one
        int next;      // the machine's next task; -1: there is none
        int way_in, way_out;
        bool adds_home;
        int slot;  // tells gaps apart
    };
    struct Gap {
        int machine, before, next;  // of the list; -1: none
        int from, to;               // places; to -1: the machine may stay
        int next_job;
    };
    void add_gap(const Gap& gap, int job, std::size_t size, std::uint64_t chance);
    void add_pair(const Gap& gap, int way_in, int way_out, Cents guess, std::size_t size,
                  std::uint64_t chance);
    void build(const std::vector<SeasonTask>& tasks, int job, const Candidate& c);
    [[nodiscard]] Cents guess(int machine, int from, int to, int way) const;
    void list_ways(int machine, int from, int to, int job, std::vector<int>& out) const;

    const SeasonProblem& m_p;
    const LeastCosts& m_least;
    std::vector<Candidate> m_candidates;
    std::vector<SeasonTask> m_trial;
    std::vector<int> m_in, m_out;
};

}  // namespace loamway

#endif
