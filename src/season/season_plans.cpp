// SPDX-License-Identifier: Apache-2.0
#include "season_plans.h"

#include <fmt/format.h>

#include "belts_on_the_way.h"
#include "budget_sums.h"
#include "loamway/base/parallel.h"

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class MachinePlans {
public:
    MachinePlans(const SeasonDesk& desk, const SeasonProblem& p, std::size_t machine,
                 std::map<std::string, PlannedMove>& kept)
        : m_desk(desk), m_p(p), m_machine(machine), m_kept(kept), m_here(p.machines[machine].start) {}

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
        const std::string key =
            fmt::format("{} {} {} {} {} {} {}", m_here, there, static_cast<int>(way.kind), way.low_bed,
                        t.low_bed_from, out.depart.unix_seconds, words_of_belts());
        const auto known = m_kept.find(key);
        if (known != m_kept.end()) {
            out = known->second;
            begin(out.belts_first, out.field_mm_per_h);
        } else {
            make_plan_of(way, there, job, t, out);
            m_kept.emplace(key, out);
        }
        if (out.way)
            m_belts->move(*out.plan, *out.plan->find_option(out.option));
    }

    void make_plan_of(const SeasonWay& way, int there, std::optional<std::size_t> job, const TaskTimes& t,
                      PlannedMove& out) {
        const auto bed = way.low_bed >= 0 ? std::optional(at(way.low_bed)) : std::nullopt;
        Prepared prepared =
            m_desk.prepare_move(m_machine, job, bed, m_here, there, out.depart, mode_of(way.kind));
        PlanInputs& in = prepared.inputs;
        out.belts_first = in.belts;
        out.field_mm_per_h = in.wear.rates.field_mm_per_h;
        begin(in.belts, out.field_mm_per_h);
        in.belts = m_belts->now();
        if (bed && at(t.low_bed_from) < m_desk.places().size())
            in.low_bed_base = m_desk.places()[at(t.low_bed_from)];
        in.powder_first = PowderFirst::if_cheaper;
        auto plan = std::make_shared<Plan>(make_plan(in));
        for (const FoundWay& found : ways_in(*plan, in)) {
            if (found.way.kind != way.kind)
                continue;
            out.way = MatrixWay{found.way, found.pick_up, found.drop};
            out.way->way.low_bed = way.low_bed;
            out.option = found.option->id;
            out.powder_first = powders_early(in, *found.option);
            JobBudget figures;
            add_road(in, *found.option, figures);
            out.sum = figures.sum;
            out.bar_high_c = figures.bar_high_c;
            out.limit_c = figures.limit_c;
        }
        if (!out.way)
            out.why_not = why_no_way(*plan);
        out.plan = std::move(plan);
    }

    /// Everything of them that a season changes; of the first move nothing is known yet.
    [[nodiscard]] std::string words_of_belts() const {
        if (!m_belts)
            return fmt::format("first {}", m_waiting.seconds());
        const BeltsNow& b = m_belts->now();
        return fmt::format("{} {} {} {}", static_cast<int>(b.condition), b.since_lube.metres(),
                           b.hours.value_or(-1), b.bar_height ? b.bar_height->mm() : -1.0);
    }

    void begin(const BeltsNow& first, double field_mm_per_h) {
        if (!m_belts)
            m_belts.emplace(first);
        m_field_mm = field_mm_per_h;
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
    std::map<std::string, PlannedMove>& m_kept;
    int m_here;
    Duration m_waiting;
    double m_field_mm = 0;
    std::optional<BeltsOnTheWay> m_belts;
};

}  // namespace

std::vector<PlannedMove> plan_tasks(const SeasonDesk& desk, const SeasonProblem& p,
                                    const SeasonSolution& solution, const std::vector<TaskTimes>& times,
                                    unsigned threads, PlansKept& kept) {
    std::vector<PlannedMove> out(solution.tasks.size());
    kept.resize(p.machines.size());
    WorkerPool pool(threads);
    pool.run(p.machines.size(), [&](std::size_t machine, unsigned) {
        MachinePlans plans(desk, p, machine, kept[machine]);
        for (std::size_t i = 0; i < solution.tasks.size(); ++i)
            if (at(solution.tasks[i].machine) == machine)
                out[i] = plans.next(solution.tasks[i], times[i]);
    });
    return out;
}

}  // namespace loamway
