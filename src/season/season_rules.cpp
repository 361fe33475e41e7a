// SPDX-License-Identifier: Apache-2.0
#include "season_rules.h"

#include <algorithm>

namespace loamway {

namespace {

WayKind kind_of(Mode mode) {
    return mode == Mode::drive ? WayKind::driven : mode == Mode::haul ? WayKind::hauled : WayKind::mixed;
}

/// Where the machine is already nothing is driven, whatever a rule says of driving.
bool stays(const SeasonWay& w) {
    return w.minutes == 0 && w.low_bed < 0;
}

void fix(const SeasonRule& r, SeasonProblem& p) {
    SeasonJob& job = p.jobs[*r.job];
    if (r.machine)
        for (std::size_t m = 0; m < job.on.size(); ++m)
            job.on[m].can = job.on[m].can && m == *r.machine;
    if (r.position != Position::any)
        job.turn = r.position == Position::first ? JobTurn::first : JobTurn::last;
    for (int m = 0; m < p.machine_count(); ++m)
        for (int from = 0; from < p.places(); ++from)
            std::erase_if(p.ways(m, from, job.place), [&](const SeasonWay& w) {
                return !stays(w) && ((r.mode && w.kind != kind_of(*r.mode)) ||
                                     (r.low_bed && w.low_bed != static_cast<int>(*r.low_bed)));
            });
}

void exclude(const SeasonRule& r, SeasonProblem& p) {
    const bool whole = !r.mode && !r.low_bed;
    for (int m = 0; m < p.machine_count(); ++m) {
        if (r.machine && static_cast<int>(*r.machine) != m)
            continue;
        for (std::size_t j = 0; j < p.jobs.size() && whole; ++j)
            if (!r.job || *r.job == j)
                p.jobs[j].on[static_cast<std::size_t>(m)].can = false;
        for (int to = 0; to < p.places() && !whole; ++to) {
            if (r.job && p.jobs[*r.job].place != to)
                continue;
            for (int from = 0; from < p.places(); ++from)
                std::erase_if(p.ways(m, from, to), [&](const SeasonWay& w) {
                    return !stays(w) && (!r.mode || w.kind == kind_of(*r.mode)) &&
                           (!r.low_bed || w.low_bed == static_cast<int>(*r.low_bed));
                });
        }
    }
}

}  // namespace

void apply_rules(const SeasonList& list, SeasonProblem& p) {
    for (const SeasonRule& r : list.fixes)
        fix(r, p);
    for (const SeasonRule& r : list.exclusions)
        exclude(r, p);
}

}  // namespace loamway
