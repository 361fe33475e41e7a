// SPDX-License-Identifier: Apache-2.0
#include "season_plans.h"

#include "belts_on_the_way.h"
#include "budget_sums.h"
#include "loamway/base/parallel.h"
#include "powder_first.h"

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class MachinePlans {
public:
    MachinePlans(const SeasonDesk& desk, const SeasonProblem& p, std::size_t machine)
        : m_desk(desk), m_p(p), m_machine(machine), m_here(p.machines[machine].start) {}

    PlannedMove next(const SeasonTask& task, const TaskTimes& t) {
        const int there = place_of(m_p, task);
        const auto job = task.job == home_task ? std::nullopt : std::optional(at(task.job));
        PlannedMove out;
        out.depart = m_desk.calendar().beginning(t.leave);
        if (task.way != no_way_needed)
            move(m_p.ways(static_cast<int>(m_machine), m_here, there)[at(task.way)], there, job, t, out);
        if (job)
            work(m_desk.work(m_machine, *job));
        m_here = there;
        return out;
    }

private:
    void move(const SeasonWay& way, int there, std::optional<std::size_t> job, const TaskTimes& t,
              PlannedMove& out) {
        if (way.minutes == 0 && way.low_bed < 0) {  // it is there already
            out.way = MatrixWay{way, {}, {}};
            return;
        }
        const auto bed = way.low_bed >= 0 ? std::optional(at(way.low_bed)) : std::nullopt;
        Prepared prepared =
            m_desk.prepare_move(m_machine, job, bed, m_here, there, out.depart, mode_of(way.kind));
        PlanInputs& in = prepared.inputs;
        begin(in);
        in.belts = m_belts->now();
        if (bed && at(t.low_bed_from) < m_desk.places().size())
            in.low_bed_base = m_desk.places()[at(t.low_bed_from)];
        auto plan = std::make_shared<Plan>(plan_or_powder_first(in, out.powder_first));
        for (const FoundWay& found : ways_in(*plan, in)) {
            if (found.way.kind != way.kind)
                continue;
            out.way = MatrixWay{found.way, found.pick_up, found.drop};
            out.way->way.low_bed = way.low_bed;
            out.option = found.option->id;
            out.total_less_low_bed = found.parts_without_low_bed;
            JobBudget figures;
            add_road(in, *found.option, figures);
            out.sum = figures.sum;
            out.bar_high_c = figures.bar_high_c;
            out.limit_c = figures.limit_c;
            m_belts->move(*plan, *found.option);
        }
        if (!out.way)
            out.why_not = why_no_way(*plan);
        out.plan = std::move(plan);
    }

    void begin(const PlanInputs& in) {
        if (!m_belts)
            m_belts.emplace(in.belts);
        m_field_mm = in.wear.rates.field_mm_per_h;
        if (m_waiting.hours() > 0)
            m_belts->work(m_waiting, m_waiting.hours() * m_field_mm);
        m_waiting = Duration();
    }
    /// Work before the first move waits until it is known what belts there are.
    void work(Duration hours) {
        if (m_belts)
            m_belts->work(hours, hours.hours() * m_field_mm);
        else
            m_waiting += hours;
    }

    const SeasonDesk& m_desk;
    const SeasonProblem& m_p;
    std::size_t m_machine;
    int m_here;
    Duration m_waiting;
    double m_field_mm = 0;
    std::optional<BeltsOnTheWay> m_belts;
};

}  // namespace

std::vector<PlannedMove> plan_tasks(const SeasonDesk& desk, const SeasonProblem& p,
                                    const SeasonSolution& solution, const std::vector<TaskTimes>& times,
                                    unsigned threads) {
    std::vector<PlannedMove> out(solution.tasks.size());
    WorkerPool pool(threads);
    pool.run(p.machines.size(), [&](std::size_t machine, unsigned) {
        MachinePlans plans(desk, p, machine);
        for (std::size_t i = 0; i < solution.tasks.size(); ++i)
            if (at(solution.tasks[i].machine) == machine)
                out[i] = plans.next(solution.tasks[i], times[i]);
    });
    return out;
}

}  // namespace loamway
