// SPDX-License-Identifier: Apache-2.0
#include "choose_ways.h"

#include <algorithm>

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

struct Beginning {
    SeasonState state;
    int before = -1;  // among all steps
    int way = no_way_needed;
};
struct Step {
    int before;
    int way;
};

bool no_worse(const SeasonProblem& p, const SeasonState& a, const SeasonState& b) {
    if (a.cost > b.cost)
        return false;
    for (std::size_t i = 0; i < p.low_beds.size(); ++i)
        if (a.low_beds[i].place != b.low_beds[i].place || a.low_beds[i].time > b.low_beds[i].time)
            return false;
    for (std::size_t i = 0; i < p.machines.size(); ++i)
        if (a.machines[i].time > b.machines[i].time)
            return false;
    return true;
}

}  // namespace

std::vector<SeasonTask> choose_ways(const SeasonProblem& p, const std::vector<SeasonTask>& tasks,
                                    std::size_t kept) {
    std::vector<Step> steps;
    std::vector<Beginning> now{{SeasonState(p)}}, next;
    for (SeasonTask task : tasks) {
        next.clear();
        for (const Beginning& b : now) {
            const int here = b.state.machines[at(task.machine)].place, there = place_of(p, task);
            const int ways = static_cast<int>(p.ways(task.machine, here, there).size());
            for (task.way = here == there ? no_way_needed : 0; task.way < ways; ++task.way) {
                Beginning one{b.state, b.before, task.way};
                if (do_task(p, one.state, task))
                    next.push_back(one);
            }
        }
        std::stable_sort(next.begin(), next.end(),
                         [](const Beginning& a, const Beginning& b) { return a.state.cost < b.state.cost; });
        now.clear();
        for (const Beginning& b : next) {
            if (now.size() == kept)
                break;
            if (std::none_of(now.begin(), now.end(),
                             [&](const Beginning& o) { return no_worse(p, o.state, b.state); }))
                now.push_back(b);
        }
        for (Beginning& b : now) {
            steps.push_back({b.before, b.way});
            b.before = static_cast<int>(steps.size()) - 1;
        }
    }
    int best = -1;
    Cents least = 0;
    for (const Beginning& b : now) {
        const Cents back = runs_back(p, b.state);
        if (back >= 0 && (best < 0 || b.state.cost + back < least)) {
            least = b.state.cost + back;
            best = b.before;
        }
    }
    if (best < 0)
        return {};
    std::vector<SeasonTask> out = tasks;
    for (std::size_t i = out.size(); i-- > 0; best = steps[at(best)].before)
        out[i].way = steps[at(best)].way;
    return out;
}

}  // namespace loamway
