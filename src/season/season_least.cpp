// SPDX-License-Identifier: Apache-2.0
#include "season_least.h"

#include <algorithm>

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

}  // namespace

LeastCosts::LeastCosts(const SeasonProblem& p) : m_p(p) {
    m_approach.assign(at(p.low_bed_count() * p.places()), no_cost);
    for (int bed = 0; bed < p.low_bed_count(); ++bed)
        for (int to = 0; to < p.places(); ++to)
            for (int from = 0; from < p.places(); ++from)
                if (const EmptyRun& run = p.run(bed, from, to); run.there) {
                    Cents& least = m_approach[at(bed * p.places() + to)];
                    least = std::min(least, run.cost);
                }
    m_any_in.assign(p.jobs.size(), 0);
    for (int j = 0; j < p.job_count(); ++j) {
        Cents least = p.jobs[at(j)].left_out;
        for (int m = 0; m < p.machine_count(); ++m)
            for (int i = -1; i < p.job_count(); ++i)
                if (i != j)
                    least = std::min(least, follow(m, i, j));
        m_any_in[at(j)] = least;
    }
}

Cents LeastCosts::way(const SeasonWay& w) const {
    if (w.low_bed < 0)
        return w.cost;
    const Cents run = m_approach[at(w.low_bed * m_p.places() + w.pick_up)];
    if (run >= no_cost)
        return no_cost;
    return w.cost + std::max(m_p.low_beds[at(w.low_bed)].minimum, w.low_bed_cost + run);
}

Cents LeastCosts::move(int machine, int from, int to, int job) const {
    Cents least = from == to ? 0 : no_cost;
    for (const SeasonWay& w : m_p.ways(machine, from, to))
        if (allowed(m_p, job, w))
            least = std::min(least, way(w));
    return least;
}

Cents LeastCosts::follow(int machine, int before, int job) const {
    const SeasonJob& j = m_p.jobs[at(job)];
    const SeasonWork& work = j.on[at(machine)];
    if (!work.can || (before >= 0 && j.turn == JobTurn::first))
        return no_cost;
    WorkMinute free = m_p.machines[at(machine)].free_at;
    int from = m_p.machines[at(machine)].start;
    if (before >= 0) {
        const SeasonJob& b = m_p.jobs[at(before)];
        if (!b.on[at(machine)].can || b.turn == JobTurn::last)
            return no_cost;
        free = std::max(free, b.earliest) + b.on[at(machine)].minutes;
        from = b.place;
    }
    if (std::max(free, j.earliest) + work.minutes > std::min(j.latest, m_p.end()))
        return no_cost;
    const Cents m = move(machine, from, j.place, job);
    return m >= no_cost ? no_cost : m + work.cost;
}

Cents LeastCosts::home(int machine, int job) const {
    const int home = m_p.machines[at(machine)].home;
    if (!m_p.jobs[at(job)].on[at(machine)].can)
        return no_cost;
    return home < 0 ? 0 : move(machine, m_p.jobs[at(job)].place, home, home_task);
}

}  // namespace loamway
