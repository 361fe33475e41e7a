// SPDX-License-Identifier: Apache-2.0
#include "season_result.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/names.h"

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}
double units(Cents c) {
    return static_cast<double>(c) / 100;
}

class ResultWriter {
public:
    explicit ResultWriter(SeasonFound& f) : m_f(f), m_calendar(f.desk.calendar()) {}

    Season write() {
        head();
        entries();
        trips_back();
        order();
        sums();
        for (const int j : m_f.solved.solution.left_out)
            m_out.left_out.push_back({at(j), reasons(at(j))});
        if (m_out.left_out.empty()) {
            m_out.exact = m_f.solved.exact;
            m_out.bound = units(m_out.exact ? m_f.solved.solution.cost : m_f.solved.bound);
            m_out.gap = m_f.solved.gap();
        }
        return std::move(m_out);
    }

private:
    void head() {
        const PlanInputs& in = m_f.desk.inputs(0, std::nullopt, std::nullopt);
        m_out.list = m_f.desk.list();
        m_out.currency = in.rates.currency;
        m_out.basis = name_of(in.rates.basis);
        const RegionMeta& meta = m_f.desk.meta();
        m_out.time_zone = meta.time_zone;
        m_out.map_date = meta.map_date;
        m_out.region_name = meta.name;
        m_out.attribution = meta.attribution;
        m_out.rounds = m_f.rounds;
        m_out.moves_planned = m_f.matrix.planned();
        m_out.pairs_left_out = m_f.matrix.pairs_left_out();
        m_out.warnings = m_f.warnings;
        m_out.begins = m_out.ends = m_f.desk.begins();
        for (const NamedPoint& p : m_f.desk.places())
            if (!p.to_confirm.empty() && std::find(m_out.to_confirm.begin(), m_out.to_confirm.end(),
                                                   p.to_confirm) == m_out.to_confirm.end())
                m_out.to_confirm.push_back(p.to_confirm);
    }

    [[nodiscard]] std::string name(int place) const {
        const std::vector<NamedPoint>& places = m_f.desk.places();
        if (at(place) < places.size())
            return places[at(place)].name;
        const GeoPoint p = m_f.matrix.point(place);
        return fmt::format("loading place {:.5f},{:.5f}", p.lat(), p.lon());
    }

    void entries() {
        std::vector<int> here;
        for (const SeasonMachine& m : m_f.problem.machines)
            here.push_back(m.start);
        for (std::size_t i = 0; i < m_f.solved.solution.tasks.size(); ++i) {
            const SeasonTask& task = m_f.solved.solution.tasks[i];
            const int from = here[at(task.machine)], to = place_of(m_f.problem, task);
            here[at(task.machine)] = to;
            SeasonEntry e;
            e.machine = at(task.machine);
            if (task.job != home_task)
                e.job = at(task.job);
            set_move(i, from, to, e.move);
            const TaskTimes& t = m_f.times[i];
            e.begin = m_calendar.beginning(t.begin);
            e.end = m_calendar.ending(t.end);
            e.field_cost = units(t.work_cost);
            if (task.way != no_way_needed) {
                const SeasonWay& w = m_f.problem.ways(task.machine, from, to)[at(task.way)];
                if (w.low_bed >= 0)
                    add_trip(w, t, e);
            }
            m_out.entries.push_back(std::move(e));
        }
    }

    void set_move(std::size_t i, int from, int to, SeasonMove& m) {
        const TaskTimes& t = m_f.times[i];
        const PlannedMove& planned = m_f.plans[i];
        m.from = name(from);
        m.to = name(to);
        m.leave = planned.plan != nullptr ? m_calendar.beginning(t.leave) : m_calendar.ending(t.leave);
        m.arrive = m_calendar.ending(t.arrive);
        m.cost = units(t.move_cost);
        m.low_bed_cost = units(t.low_bed_cost);
        if (planned.plan == nullptr)
            return;
        m.plan = planned.plan;
        m.option = planned.option;
        m.powder_first = planned.powder_first;
        m.driven_m = planned.sum.driven_m;
        m.paved_m = planned.sum.paved_m;
        m.hauled_m = planned.sum.hauled_m;
        m.stops = planned.sum.stops;
        m.bar_high_c = planned.bar_high_c;
        m.limit_c = planned.limit_c;
        m.mode = planned.way ? mode_of(planned.way->way.kind) : Mode::none;
        CostCauses causes = planned.sum.causes;
        causes.other += m.cost + causes.low_bed - causes.total();
        causes.low_bed = m.low_bed_cost;
        m_out.causes += causes;
        m_out.wear_share += planned.sum.wear_share.value;
        m_out.fuel_l += planned.sum.fuel_l;
        if (!planned.way)
            m_out.warnings.push_back(fmt::format("{} to {} at {}: cannot be done at that hour{}{}", m.from,
                                                 m.to, format_rfc3339(m.leave, m_f.desk.zone()).substr(0, 16),
                                                 planned.why_not.empty() ? "" : ": ",
                                                 planned.why_not.empty() ? "" : planned.why_not.front()));
    }

    void add_trip(const SeasonWay& w, const TaskTimes& t, SeasonEntry& e) {
        LowBedTrip trip;
        trip.low_bed = at(w.low_bed);
        trip.entry = m_out.entries.size();
        trip.from = name(t.low_bed_from);
        trip.pick_up = name(w.pick_up);
        trip.drop = name(w.drop);
        trip.leaves = t.low_bed_there > t.low_bed_leaves ? m_calendar.beginning(t.low_bed_leaves)
                                                         : m_calendar.ending(t.low_bed_leaves);
        trip.there = m_calendar.ending(t.low_bed_there);
        trip.busy_from = m_calendar.beginning(t.leave + w.load_after);
        trip.free = m_calendar.ending(t.low_bed_free);
        trip.cost = units(t.low_bed_cost);
        e.trip = m_out.trips.size();
        m_out.trips.push_back(std::move(trip));
        m_last[at(w.low_bed)] = {w.drop, t.low_bed_free};
    }

    void trips_back() {
        for (const auto& [bed, last] : m_last) {
            const int base = m_f.problem.low_beds[bed].base;
            if (last.first == base)
                continue;
            const EmptyRun& run = m_f.problem.run(static_cast<int>(bed), last.first, base);
            const WorkMinute leaves = m_f.problem.fit(last.second, run.minutes);
            LowBedTrip trip;
            trip.low_bed = bed;
            trip.from = trip.pick_up = name(last.first);
            trip.drop = name(base);
            trip.leaves = trip.busy_from = m_calendar.beginning(leaves);
            trip.there = trip.free = m_calendar.ending(leaves + run.minutes);
            trip.cost = units(run.cost);
            m_out.causes.low_bed += trip.cost;
            m_out.trips.push_back(std::move(trip));
        }
    }

    /// Machine by machine and low-bed by low-bed; numbers of one in the other follow.
    void order() {
        std::vector<std::size_t> entry(m_out.entries.size()), trip(m_out.trips.size());
        const auto sorted = [](std::vector<std::size_t>& numbers, auto who) {
            for (std::size_t i = 0; i < numbers.size(); ++i)
                numbers[i] = i;
            std::stable_sort(numbers.begin(), numbers.end(),
                             [&](std::size_t a, std::size_t b) { return who(a) < who(b); });
            std::vector<std::size_t> place(numbers.size());
            for (std::size_t i = 0; i < numbers.size(); ++i)
                place[numbers[i]] = i;
            return place;
        };
        const auto entry_at = sorted(entry, [&](std::size_t i) { return m_out.entries[i].machine; });
        const auto trip_at = sorted(trip, [&](std::size_t i) { return m_out.trips[i].low_bed; });
        std::vector<SeasonEntry> entries;
        for (const std::size_t i : entry) {
            entries.push_back(std::move(m_out.entries[i]));
            if (entries.back().trip)
                entries.back().trip = trip_at[*entries.back().trip];
        }
        std::vector<LowBedTrip> trips;
        for (const std::size_t i : trip) {
            trips.push_back(std::move(m_out.trips[i]));
            if (trips.back().entry)
                trips.back().entry = entry_at[*trips.back().entry];
        }
        m_out.entries = std::move(entries);
        m_out.trips = std::move(trips);
    }

    void sums() {
        for (const SeasonEntry& e : m_out.entries) {
            m_out.field += e.field_cost;
            m_out.moves += e.move.cost;
            m_out.ends = std::max(m_out.ends, e.end);
            if (!e.job)
                continue;
            const BudgetSum& field = m_f.matrix.field(e.machine, *e.job);
            m_out.causes += field.causes;
            m_out.wear_share += field.wear_share.value;
            m_out.fuel_l += field.fuel_l;
        }
        for (const LowBedTrip& t : m_out.trips) {
            m_out.low_beds += t.cost;
            m_out.ends = std::max(m_out.ends, t.free);
        }
        m_out.total = m_out.field + m_out.moves + m_out.low_beds;
    }

    /// Whether the job could be done if there were no other.
    [[nodiscard]] bool possible_alone(std::size_t job) const {
        SeasonProblem p = m_f.problem;
        for (std::size_t j = 0; j < p.jobs.size(); ++j)
            for (SeasonWork& w : p.jobs[j].on)
                w.can = w.can && j == job;
        const std::optional<SeasonSolution> s = solve_exactly_few(p);
        return s &&
               std::find(s->left_out.begin(), s->left_out.end(), static_cast<int>(job)) == s->left_out.end();
    }
    static std::optional<SeasonSolution> solve_exactly_few(const SeasonProblem& p) {
        ImproveOptions options;
        options.rounds = 50;
        return improve_season(p, options);
    }

    [[nodiscard]] std::vector<std::string> reasons(std::size_t job) const {
        if (possible_alone(job))
            return {
                "by itself it can be done, but not with the other jobs: there is not enough time of machines "
                "or low-beds in its days"};
        std::vector<std::string> out;
        const SeasonList& list = m_f.desk.list();
        const SeasonJob& j = m_f.problem.jobs[job];
        for (std::size_t m = 0; m < list.machines.size(); ++m)
            out.push_back(fmt::format("{}: {}", list.machines[m].name, reason(m, job, j)));
        return out;
    }
    [[nodiscard]] std::string reason(std::size_t machine, std::size_t job, const SeasonJob& j) const {
        if (!m_f.desk.can(machine, job))
            return "is not among the machines that can";
        if (!j.on[machine].can)
            return "is excluded, or another is fixed";
        const MoveOf move{machine, m_f.desk.stand(machine), j.place};
        if (const std::vector<std::string> why = m_f.matrix.why_not(move); !why.empty())
            return fmt::format("no way there from {}: {}", name(move.from), fmt::join(why, "; "));
        const std::vector<SeasonWay>& ways = m_f.problem.ways(static_cast<int>(machine), move.from, j.place);
        if (ways.empty())
            return "every way there is excluded";
        const MoveOf home{machine, j.place, m_f.desk.base(machine)};
        if (const std::vector<std::string> why = m_f.matrix.why_not(home); !why.empty())
            return fmt::format("no way back to {}: {}", name(home.to), fmt::join(why, "; "));
        WorkMinute least = ways.front().minutes;
        for (const SeasonWay& w : ways)
            least = std::min(least, w.minutes);
        const WorkMinute room =
            j.latest - std::max(j.earliest, m_f.problem.machines[machine].free_at + least);
        if (room < j.on[machine].minutes)
            return fmt::format("between earliest and latest there are {} of working hours, the job takes {}",
                               format_duration(Duration::from_minutes(std::max(0, room))),
                               format_duration(Duration::from_minutes(j.on[machine].minutes)));
        return "its days, the ways there and back and the low-beds do not go together";
    }

    SeasonFound& m_f;
    const SeasonCalendar& m_calendar;
    Season m_out;
    std::map<std::size_t, std::pair<int, WorkMinute>> m_last;  // by low-bed: where and when it is free
};

}  // namespace

Season season_result(SeasonFound& found) {
    return ResultWriter(found).write();
}

}  // namespace loamway
