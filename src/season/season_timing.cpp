// SPDX-License-Identifier: Apache-2.0
#include "loamway/season/season_timing.h"

#include <algorithm>

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// The move of a task; false when it cannot be made.
bool make_move(const SeasonProblem& p, SeasonState& s, const SeasonTask& task, int to, TaskTimes& t) {
    SeasonState::Machine& m = s.machines[at(task.machine)];
    t.leave = t.arrive = m.time;
    if (task.way == no_way_needed)
        return m.place == to;
    const std::vector<SeasonWay>& ways = p.ways(task.machine, m.place, to);
    if (task.way < 0 || at(task.way) >= ways.size() || !allowed(p, task.job, ways[at(task.way)]))
        return false;
    const SeasonWay& w = ways[at(task.way)];
    WorkMinute ready = m.time;
    if (w.low_bed >= 0) {
        SeasonState::LowBed& bed = s.low_beds[at(w.low_bed)];
        const EmptyRun& run = p.run(w.low_bed, bed.place, w.pick_up);
        if (!run.there || (t.low_bed_leaves = p.fit(bed.time, run.minutes)) < 0)
            return false;
        t.low_bed_from = bed.place;
        t.low_bed_there = t.low_bed_leaves + run.minutes;
        t.low_bed_cost = trip_cost(p, w, bed.place);
        ready = std::max(ready, t.low_bed_there - w.load_after);
    }
    if ((t.leave = p.fit(ready, w.minutes)) < 0)
        return false;
    t.arrive = t.leave + w.minutes;
    t.move_cost = w.cost;
    if (w.low_bed >= 0) {
        t.low_bed_free = t.leave + w.load_after + w.low_bed_minutes;
        s.low_beds[at(w.low_bed)] = {w.drop, t.low_bed_free, true};
    }
    return true;
}

}  // namespace

SeasonState::SeasonState(const SeasonProblem& p) {
    for (std::size_t i = 0; i < p.machines.size(); ++i) {
        machines[i].place = p.machines[i].start;
        machines[i].time = p.machines[i].free_at;
    }
    for (std::size_t i = 0; i < p.low_beds.size(); ++i)
        low_beds[i] = {p.low_beds[i].base, p.low_beds[i].free_at, false};
}

bool allowed(const SeasonProblem& p, int job, const SeasonWay& w) {
    if (job == home_task)
        return true;
    const SeasonJob& j = p.jobs[at(job)];
    return (j.kinds & bit_of(w.kind)) != 0 && (w.low_bed < 0 || (j.low_beds >> w.low_bed & 1u) != 0);
}

bool do_task(const SeasonProblem& p, SeasonState& s, const SeasonTask& task, TaskTimes* times) {
    SeasonState::Machine& m = s.machines[at(task.machine)];
    const bool home = task.job == home_task;
    const int to = place_of(p, task);
    // A machine whose last job is done may still go home, once.
    if (to < 0 || (m.finished && (!home || m.last_job == home_task)) || (home && m.jobs == 0))
        return false;
    TaskTimes t;
    const SeasonWork* work = home ? nullptr : &p.jobs[at(task.job)].on[at(task.machine)];
    const SeasonJob* job = home ? nullptr : &p.jobs[at(task.job)];
    if (!home && (!work->can || (job->turn == JobTurn::first && m.jobs > 0)))
        return false;
    if (!make_move(p, s, task, to, t))
        return false;
    t.begin = t.end = t.arrive;
    if (!home) {
        t.begin = std::max(t.arrive, job->earliest);
        t.end = t.begin + work->minutes;
        if (t.end > std::min(job->latest, p.end()))
            return false;
        t.work_cost = work->cost;
        ++m.jobs;
    }
    m.place = to;
    m.time = t.end;
    m.last_job = task.job;
    m.finished = home || job->turn == JobTurn::last;
    s.cost += t.move_cost + t.low_bed_cost + t.work_cost;
    if (times != nullptr)
        *times = t;
    return true;
}

Cents runs_back(const SeasonProblem& p, const SeasonState& s) {
    Cents sum = 0;
    for (int i = 0; i < p.low_bed_count(); ++i) {
        const SeasonState::LowBed& bed = s.low_beds[at(i)];
        const int base = p.low_beds[at(i)].base;
        if (!bed.used || bed.place == base)
            continue;
        const EmptyRun& run = p.run(i, bed.place, base);
        if (!run.there || p.fit(bed.time, run.minutes) < 0)
            return -1;
        sum += run.cost;
    }
    return sum;
}

bool time_all(const SeasonProblem& p, SeasonSolution& solution, std::vector<TaskTimes>* times) {
    SeasonState s(p);
    std::vector<bool> done(p.jobs.size(), false);
    if (times != nullptr)
        times->assign(solution.tasks.size(), {});
    for (std::size_t i = 0; i < solution.tasks.size(); ++i) {
        const SeasonTask& task = solution.tasks[i];
        if (task.job != home_task) {
            if (done[at(task.job)])
                return false;
            done[at(task.job)] = true;
        }
        if (!do_task(p, s, task, times != nullptr ? &(*times)[i] : nullptr))
            return false;
    }
    for (std::size_t i = 0; i < p.machines.size(); ++i)
        if (p.machines[i].home >= 0 && s.machines[i].jobs > 0 && s.machines[i].last_job != home_task)
            return false;
    const Cents back = runs_back(p, s);
    if (back < 0)
        return false;
    solution.cost = s.cost + back;
    solution.left_out.clear();
    for (std::size_t j = 0; j < done.size(); ++j)
        if (!done[j]) {
            solution.left_out.push_back(static_cast<int>(j));
            solution.cost += p.jobs[j].left_out;
        }
    return true;
}

}  // namespace loamway
