// SPDX-License-Identifier: Apache-2.0
#include "season_matrix.h"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <set>

#include "budget_sums.h"
#include "loamway/base/error.h"
#include "loamway/base/geo.h"
#include "loamway/base/names.h"
#include "loamway/base/parallel.h"
#include "season_rules.h"

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Less than anybody would leave a job out for.
constexpr Cents price_of_leaving_out = 100'000'000'00;

}  // namespace

/// What is planned once, for all machines and low-beds of a class.
struct SeasonMatrix::Task {
    const PlanInputs* inputs;
    GeoPoint from, to;
    MoveOf first;  // of those it is for
    bool drive;    // with the first class of low-beds alone: driving knows none
    std::vector<MoveOf> moves;
    std::vector<int> low_beds;
};

SeasonMatrix::SeasonMatrix(SeasonDesk& desk, const SeasonOptions& options) : m_desk(desk) {
    for (const NamedPoint& p : desk.places())
        m_points.push_back(p.point);
    list_moves(options.most_moves);
    plan_all(options);
    add_up_fields();
}

void SeasonMatrix::list_moves(std::size_t most) {
    const SeasonList& list = m_desk.list();
    for (std::size_t m = 0; m < list.machines.size(); ++m)
        for (std::size_t j = 0; j < list.jobs.size(); ++j) {
            if (!m_desk.can(m, j))
                continue;
            m_moves.push_back({m, m_desk.stand(m), m_desk.place_of_job(j)});
            if (list.machines[m].returns)
                m_moves.push_back({m, m_desk.place_of_job(j), m_desk.base(m)});
            for (std::size_t i = 0; i < list.jobs.size(); ++i)
                if (i != j && m_desk.can(m, i))
                    m_moves.push_back({m, m_desk.place_of_job(i), m_desk.place_of_job(j)});
        }
    if (m_moves.size() > most)
        keep_near(most);
}

// From each job the jobs nearest to it over ground, as many as there is room for; ways from stands and to
// bases all stay.
void SeasonMatrix::keep_near(std::size_t most) {
    std::map<std::pair<std::size_t, int>, std::vector<MoveOf>> by_start;
    std::vector<MoveOf> kept;
    const int first_job = m_desk.place_of_job(0);
    for (const MoveOf& m : m_moves)
        if (m.from >= first_job && m.to >= first_job)
            by_start[{m.machine, m.from}].push_back(m);
        else
            kept.push_back(m);
    const std::size_t room = most > kept.size() ? most - kept.size() : 0;
    const std::size_t each = std::max<std::size_t>(8, room / std::max<std::size_t>(1, by_start.size()));
    for (auto& [start, moves] : by_start) {
        std::stable_sort(moves.begin(), moves.end(), [&](const MoveOf& a, const MoveOf& b) {
            return distance(point(a.from), point(a.to)) < distance(point(b.from), point(b.to));
        });
        m_left_out += moves.size() - std::min(each, moves.size());
        moves.resize(std::min(each, moves.size()));
        kept.insert(kept.end(), moves.begin(), moves.end());
    }
    m_moves = std::move(kept);
}

void SeasonMatrix::plan_all(const SeasonOptions& options) {
    const SeasonList& list = m_desk.list();
    std::vector<Task> tasks;
    std::map<std::string, std::size_t> known;
    std::map<std::string, std::vector<int>> classes;  // of low-beds
    for (std::size_t b = 0; b < list.low_beds.size(); ++b)
        classes[m_desk.class_of_low_bed(b)].push_back(static_cast<int>(b));
    if (classes.empty())
        classes[""] = {};
    for (const MoveOf& move : m_moves) {
        const int first_job = m_desk.place_of_job(0);
        const auto job = move.to >= first_job ? std::optional(at(move.to - first_job)) : std::nullopt;
        const GeoPoint from = point(move.from), to = point(move.to);
        if (from == to) {
            m_ways[move] = {MatrixWay{SeasonWay{}, from, to}};
            continue;
        }
        bool drive = true;
        for (const auto& [name, beds] : classes) {
            const std::string key = fmt::format("{}\n{}\n{} {} {} {}", m_desk.class_of(move.machine, job),
                                                name, from.lat_e7, from.lon_e7, to.lat_e7, to.lon_e7);
            const auto [entry, added] = known.emplace(key, tasks.size());
            if (added) {
                const auto bed = beds.empty() ? std::nullopt : std::optional(at(beds.front()));
                tasks.push_back({&m_desk.inputs(move.machine, job, bed), from, to, move, drive, {}, beds});
            }
            tasks[entry->second].moves.push_back(move);
            drive = false;
        }
    }
    std::vector<std::vector<MatrixWay>> ways(tasks.size());
    std::vector<std::vector<std::string>> why(tasks.size());
    std::atomic<std::size_t> done = 0;
    WorkerPool pool(options.threads);
    pool.run(tasks.size(), [&](std::size_t piece, unsigned worker) {
        plan_one(tasks[piece], ways[piece], why[piece]);
        const std::size_t so_far = ++done;
        if (worker == 0 && options.progress)
            options.progress("planning moves",
                             static_cast<double>(so_far) / static_cast<double>(tasks.size()));
    });
    m_planned = tasks.size();
    for (std::size_t t = 0; t < tasks.size(); ++t)
        for (const MoveOf& move : tasks[t].moves) {
            std::vector<MatrixWay>& all = m_ways[move];
            for (const MatrixWay& w : ways[t])
                if (w.way.kind == WayKind::driven)
                    all.push_back(w);
                else
                    for (const int bed : tasks[t].low_beds) {
                        all.push_back(w);
                        all.back().way.low_bed = bed;
                    }
            if (all.empty())
                m_why[move] = why[t];
        }
}

void SeasonMatrix::plan_one(const Task& task, std::vector<MatrixWay>& ways,
                            std::vector<std::string>& why) const {
    PlanInputs in = *task.inputs;
    in.from = m_desk.places()[at(task.first.from)];
    in.to = m_desk.places()[at(task.first.to)];
    in.drive = in.drive && task.drive;
    in.haul = in.haul && !task.low_beds.empty();
    in.mixed = in.mixed && !task.low_beds.empty();
    in.front = in.other_hours = false;
    in.trials = 1;
    if (!in.drive && !in.haul && !in.mixed)
        return;
    try {
        const Plan plan = make_plan(in);
        for (const FoundWay& w : ways_in(plan, in))
            ways.push_back({w.way, w.pick_up, w.drop});
        why = why_no_way(plan);
    } catch (const Error& e) {
        throw Error(e.kind(),
                    fmt::format("{} to {}: {}", printable(in.from.name), printable(in.to.name), e.message()),
                    e.what_to_do(), e.place());
    }
}

std::vector<std::string> SeasonMatrix::why_not(const MoveOf& move) const {
    const auto found = m_why.find(move);
    return found == m_why.end() ? std::vector<std::string>() : found->second;
}

void SeasonMatrix::replace(const MoveOf& move, WayKind kind, int low_bed,
                           const std::optional<MatrixWay>& way) {
    std::vector<MatrixWay>& all = m_ways[move];
    std::erase_if(all, [&](const MatrixWay& w) { return w.way.kind == kind && w.way.low_bed == low_bed; });
    if (way)
        all.push_back(*way);
}

void SeasonMatrix::add_up_fields() {
    const SeasonList& list = m_desk.list();
    m_field.resize(list.machines.size() * list.jobs.size());
    for (std::size_t m = 0; m < list.machines.size(); ++m)
        for (std::size_t j = 0; j < list.jobs.size(); ++j)
            if (m_desk.can(m, j))
                add_field(m_desk.inputs(m, j, std::nullopt), m_desk.field_job(m, j),
                          m_field[m * list.jobs.size() + j]);
}

std::vector<SeasonJob> SeasonMatrix::jobs() const {
    const SeasonList& list = m_desk.list();
    std::vector<SeasonJob> out;
    for (std::size_t j = 0; j < list.jobs.size(); ++j) {
        SeasonJob job;
        job.place = m_desk.place_of_job(j);
        job.earliest = m_desk.earliest(list.jobs[j].earliest);
        job.latest = m_desk.latest(list.jobs[j].latest);
        job.left_out = price_of_leaving_out;
        for (std::size_t m = 0; m < list.machines.size(); ++m)
            job.on.push_back({m_desk.can(m, j), cents_of(field(m, j).cost.value),
                              static_cast<WorkMinute>(std::ceil(m_desk.work(m, j).minutes() - 1e-6))});
        out.push_back(std::move(job));
    }
    return out;
}

int SeasonMatrix::place_at(GeoPoint p) {
    for (std::size_t i = 0; i < m_points.size(); ++i)
        if (m_points[i] == p)
            return static_cast<int>(i);
    m_points.push_back(p);
    return static_cast<int>(m_points.size()) - 1;
}

void SeasonMatrix::set_runs(SeasonProblem& p) {
    const int places = p.places();
    for (int b = 0; b < p.low_bed_count(); ++b) {
        auto& [points, runs] = m_runs[m_desk.class_of_low_bed(at(b))];
        if (points != m_points) {
            points = m_points;
            runs = low_bed_runs(m_desk.inputs(0, std::nullopt, at(b)), points);
        }
        for (int from = 0; from < places; ++from)
            for (int to = 0; to < places; ++to) {
                const LowBedRun& r = runs[at(from) * points.size() + at(to)];
                p.run(b, from, to) = {r.there, cents_of(r.cost.units()),
                                      static_cast<WorkMinute>(std::ceil(r.time.minutes() - 1e-6))};
            }
    }
}

SeasonProblem SeasonMatrix::problem(bool with_rules) {
    const SeasonList& list = m_desk.list();
    std::vector<SeasonMachine> machines;
    for (std::size_t m = 0; m < list.machines.size(); ++m)
        machines.push_back({m_desk.stand(m), list.machines[m].returns ? m_desk.base(m) : -1,
                            m_desk.earliest(list.machines[m].free)});
    std::vector<SeasonLowBed> beds;
    for (std::size_t b = 0; b < list.low_beds.size(); ++b)
        beds.push_back({m_desk.low_bed_base(b), m_desk.earliest(list.low_beds[b].free),
                        cents_of(m_desk.inputs(0, std::nullopt, b).rates.truck_minimum.units())});
    for (auto& [move, ways] : m_ways)
        for (MatrixWay& w : ways)
            if (w.way.low_bed >= 0) {
                w.way.pick_up = place_at(w.pick_up);
                w.way.drop = place_at(w.drop);
            }
    SeasonProblem p(std::move(machines), std::move(beds), jobs(), static_cast<int>(m_points.size()),
                    m_desk.calendar().day_ends());
    for (const auto& [move, ways] : m_ways)
        for (const MatrixWay& w : ways)
            p.ways(static_cast<int>(move.machine), move.from, move.to).push_back(w.way);
    if (!list.low_beds.empty())
        set_runs(p);
    if (with_rules)
        apply_rules(list, p);
    return p;
}

}  // namespace loamway
