// SPDX-License-Identifier: Apache-2.0
#include "season_insertion.h"

#include <algorithm>
#include <array>

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

}  // namespace

Cents cost_of_tasks(const SeasonProblem& p, const std::vector<SeasonTask>& tasks) {
    SeasonState s(p);
    for (const SeasonTask& t : tasks)
        if (!do_task(p, s, t))
            return no_cost;
    for (std::size_t m = 0; m < p.machines.size(); ++m)
        if (p.machines[m].home >= 0 && s.machines[m].jobs > 0 && s.machines[m].last_job != home_task)
            return no_cost;
    const Cents back = runs_back(p, s);
    return back < 0 ? no_cost : s.cost + back;
}

Cents Inserter::guess(int machine, int from, int to, int way) const {
    return way == no_way_needed ? 0 : m_least.way(m_p.ways(machine, from, to)[at(way)]);
}

void Inserter::list_ways(int machine, int from, int to, int job, std::vector<int>& out) const {
    out.clear();
    if (from == to)
        out.push_back(no_way_needed);
    const std::vector<SeasonWay>& ways = m_p.ways(machine, from, to);
    for (std::size_t w = 0; w < ways.size(); ++w)
        if (allowed(m_p, job, ways[w]) && m_least.way(ways[w]) < no_cost)
            out.push_back(static_cast<int>(w));
}

void Inserter::add_pair(const Gap& gap, int way_in, int way_out, Cents guess, std::size_t size,
                        std::uint64_t chance) {
    const int first = gap.before + 1, last = gap.next < 0 ? static_cast<int>(size) : gap.next;
    Candidate c{guess,
                gap.machine,
                first,
                gap.next,
                way_in,
                way_out,
                gap.next < 0 && gap.to >= 0,
                gap.machine * 4096 + gap.before + 1};
    m_candidates.push_back(c);
    // When the task is taken up only matters where it takes its turn at a low-bed.
    const bool takes_turns = way_in != no_way_needed || c.adds_home;
    if (!takes_turns || last == first)
        return;
    c.position = last;
    m_candidates.push_back(c);
    if (last - first > 1) {
        c.position = first + 1 + static_cast<int>(chance % static_cast<std::uint64_t>(last - first - 1));
        m_candidates.push_back(c);
    }
}

void Inserter::add_gap(const Gap& gap, int job, std::size_t size, std::uint64_t chance) {
    const SeasonJob& j = m_p.jobs[at(job)];
    list_ways(gap.machine, gap.from, j.place, job, m_in);
    if (gap.to >= 0)
        list_ways(gap.machine, j.place, gap.to, gap.next_job, m_out);
    else
        m_out.assign(1, no_way_needed);
    const Cents work = j.on[at(gap.machine)].cost;
    for (const int in : m_in) {
        const Cents first = guess(gap.machine, gap.from, j.place, in) + work;
        for (const int out : m_out)
            add_pair(gap, in, out, first + (gap.to >= 0 ? guess(gap.machine, j.place, gap.to, out) : 0), size,
                     chance);
    }
}

void Inserter::build(const std::vector<SeasonTask>& tasks, int job, const Candidate& c) {
    m_trial.clear();
    m_trial.insert(m_trial.end(), tasks.begin(), tasks.begin() + c.position);
    m_trial.push_back({c.machine, job, c.way_in});
    if (c.adds_home)
        m_trial.push_back({c.machine, home_task, c.way_out});
    m_trial.insert(m_trial.end(), tasks.begin() + c.position, tasks.end());
    if (c.next >= 0)
        m_trial[at(c.next + 1)].way = c.way_out;
}

void Inserter::find(const std::vector<SeasonTask>& tasks, int job, std::uint64_t chance, Insertion& out) {
    out.cost = out.second = no_cost;
    m_candidates.clear();
    const Cents now = cost_of_tasks(m_p, tasks);
    for (int m = 0; m < m_p.machine_count(); ++m) {
        if (!m_p.jobs[at(job)].on[at(m)].can)
            continue;
        Gap gap{m, -1, -1, m_p.machines[at(m)].start, -1, home_task};
        bool closed = false;
        for (int i = 0; i < static_cast<int>(tasks.size()); ++i) {
            if (tasks[at(i)].machine != m)
                continue;
            gap.next = i;
            gap.to = place_of(m_p, tasks[at(i)]);
            gap.next_job = tasks[at(i)].job;
            const std::size_t first = m_candidates.size();
            add_gap(gap, job, tasks.size(), chance);
            const Cents saved = guess(m, gap.from, gap.to, tasks[at(i)].way);
            for (std::size_t c = first; c < m_candidates.size(); ++c)
                m_candidates[c].guess -= saved;
            gap.before = i;
            gap.from = gap.to;
            closed = tasks[at(i)].job == home_task;
        }
        gap.next = -1;
        gap.to = m_p.machines[at(m)].home;
        gap.next_job = home_task;
        if (!closed)
            add_gap(gap, job, tasks.size(), chance);
    }
    std::stable_sort(m_candidates.begin(), m_candidates.end(),
                     [](const Candidate& a, const Candidate& b) { return a.guess < b.guess; });
    int slot = -1;
    for (const Candidate& c : m_candidates) {
        if (now < no_cost && now + c.guess >= out.second)
            break;
        build(tasks, job, c);
        const Cents cost = cost_of_tasks(m_p, m_trial);
        if (cost < out.cost) {
            if (slot >= 0 && slot != c.slot)
                out.second = out.cost;
            out.cost = cost;
            slot = c.slot;
            out.tasks = m_trial;
        } else if (cost < out.second && slot != c.slot) {
            out.second = cost;
        }
    }
}

bool Inserter::remove(std::vector<SeasonTask>& tasks, const std::vector<bool>& jobs) const {
    std::array<int, most_machines> place{}, count{};
    std::array<bool, most_machines> changed{};
    for (const SeasonTask& t : tasks)
        count[at(t.machine)] += t.job != home_task && !jobs[at(t.job)] ? 1 : 0;
    for (int m = 0; m < m_p.machine_count(); ++m)
        place[at(m)] = m_p.machines[at(m)].start;
    std::vector<int> ways;
    std::size_t kept = 0;
    for (SeasonTask t : tasks) {
        const std::size_t m = at(t.machine);
        if (count[m] == 0 || (t.job != home_task && jobs[at(t.job)])) {
            changed[m] = true;
            continue;
        }
        const int to = place_of(m_p, t);
        if (changed[m]) {
            list_ways(t.machine, place[m], to, t.job, ways);
            if (ways.empty())
                return false;
            t.way = *std::min_element(ways.begin(), ways.end(), [&](int a, int b) {
                return guess(t.machine, place[m], to, a) < guess(t.machine, place[m], to, b);
            });
            changed[m] = false;
        }
        place[m] = to;
        tasks[kept++] = t;
    }
    tasks.resize(kept);
    return true;
}

}  // namespace loamway
