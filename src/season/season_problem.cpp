// SPDX-License-Identifier: Apache-2.0
#include "loamway/season/season_problem.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/error.h"

namespace loamway {

namespace {

constexpr WorkMinute step = 16;

}  // namespace

SeasonProblem::SeasonProblem(std::vector<SeasonMachine> the_machines, std::vector<SeasonLowBed> the_low_beds,
                             std::vector<SeasonJob> the_jobs, int places, std::vector<WorkMinute> day_ends)
    : machines(std::move(the_machines)),
      low_beds(std::move(the_low_beds)),
      jobs(std::move(the_jobs)),
      m_places(places),
      m_day_ends(std::move(day_ends)) {
    if (machine_count() > most_machines || low_bed_count() > most_low_beds)
        throw Error(ErrorKind::limit,
                    fmt::format("{} machines and {} low-beds", machine_count(), low_bed_count()),
                    fmt::format("at most {} and {}", most_machines, most_low_beds));
    const std::size_t pairs = static_cast<std::size_t>(places) * static_cast<std::size_t>(places);
    m_ways.resize(machines.size() * pairs);
    m_runs.resize(low_beds.size() * pairs);
    std::int32_t day = 0;
    for (WorkMinute t = 0; t < end(); t += step) {
        while (m_day_ends[static_cast<std::size_t>(day)] <= t)
            ++day;
        m_day_of.push_back(day);
    }
}

int SeasonProblem::day_beginning(WorkMinute t) const {
    if (t < 0 || t >= end())
        return -1;
    int day = m_day_of[static_cast<std::size_t>(t / step)];
    while (m_day_ends[static_cast<std::size_t>(day)] <= t)
        ++day;
    return day;
}

WorkMinute SeasonProblem::fit(WorkMinute t, WorkMinute minutes) const {
    if (minutes <= 0)
        return t <= end() ? t : -1;
    int day = day_beginning(t);
    if (day < 0)
        return -1;
    for (; day < static_cast<int>(m_day_ends.size()); ++day) {
        const WorkMinute evening = m_day_ends[static_cast<std::size_t>(day)];
        if (t + minutes <= evening)
            return t;
        t = evening;
    }
    return -1;
}

}  // namespace loamway
