// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_SEASON_TIMING_H
#define LOAMWAY_SEASON_SEASON_TIMING_H

// Who is where when, once it is settled who does what in which order: everything as early as it can be.
// Whatever order machines and low-beds go through their tasks in can be written as one list, and doing the
// list one task after the other gives the earliest times of all. The one place that knows what can follow
// what and what it costs; every solver steps through here.

#include <array>
#include <span>
#include <vector>

#include "loamway/season/season_problem.h"

namespace loamway {

constexpr int home_task = -1;  // in place of a job: the way home
constexpr int no_way_needed = -1;

/// The next thing a machine does: the move to a job and the job, or the move home.
struct SeasonTask {
    int machine = 0;
    int job = home_task;
    int way = no_way_needed;  // among ways(machine, here, there); no_way_needed where it is there already
    friend bool operator==(const SeasonTask&, const SeasonTask&) = default;
};

struct SeasonState {
    struct Machine {
        int place = 0;
        WorkMinute time = 0;
        std::int32_t jobs = 0;
        std::int32_t last_job = -1;
        bool finished = false;  // at home, or after a job that is to be its last
    };
    struct LowBed {
        int place = 0;
        WorkMinute time = 0;
        bool used = false;
    };
    std::array<Machine, most_machines> machines;
    std::array<LowBed, most_low_beds> low_beds;
    Cents cost = 0;

    explicit SeasonState(const SeasonProblem& p);
};

/// In working minutes. Without a move leave and arrive are the time the machine was free.
struct TaskTimes {
    WorkMinute leave = 0, arrive = 0, begin = 0, end = 0;
    WorkMinute low_bed_leaves = -1, low_bed_there = -1, low_bed_free = -1;
    int low_bed_from = -1;
    Cents move_cost = 0, low_bed_cost = 0, work_cost = 0;
};

/// What the low-bed of a way costs when it comes from `from`; the run must be there.
[[nodiscard]] inline Cents trip_cost(const SeasonProblem& p, const SeasonWay& w, int from) {
    const Cents all = w.low_bed_cost + p.run(w.low_bed, from, w.pick_up).cost;
    const Cents least = p.low_beds[static_cast<std::size_t>(w.low_bed)].minimum;
    return all > least ? all : least;
}

/// Where the task leads.
[[nodiscard]] inline int place_of(const SeasonProblem& p, const SeasonTask& t) {
    return t.job == home_task ? p.machines[static_cast<std::size_t>(t.machine)].home
                              : p.jobs[static_cast<std::size_t>(t.job)].place;
}

/// Whether the job allows this way of getting to it; always for the way home.
[[nodiscard]] bool allowed(const SeasonProblem& p, int job, const SeasonWay& w);

/// Does the task, unless it cannot be done; then the state is of no further use.
[[nodiscard]] bool do_task(const SeasonProblem& p, SeasonState& state, const SeasonTask& task,
                           TaskTimes* times = nullptr);

/// Of low-beds that go back to their bases; -1 when one cannot.
[[nodiscard]] Cents runs_back(const SeasonProblem& p, const SeasonState& state);

struct SeasonSolution {
    std::vector<SeasonTask> tasks;  // in an order in which they can be done
    Cents cost = 0;                 // all in, jobs left out too
    std::vector<int> left_out;      // jobs, rising
};

/// Whether every task can be done, machines that have worked are at home and low-beds can go back; then cost
/// and jobs left out are set. `times` beside the tasks.
[[nodiscard]] bool time_all(const SeasonProblem& p, SeasonSolution& solution,
                            std::vector<TaskTimes>* times = nullptr);

}  // namespace loamway

#endif
