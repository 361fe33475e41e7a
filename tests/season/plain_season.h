// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SEASON_PLAIN_SEASON_H
#define LOAMWAY_TESTS_SEASON_PLAIN_SEASON_H

// The least-cost season by trying everything, written from the words of season_problem.h and nothing else:
// who does each job, in which order, each move in which way, each low-bed's trips in which order; times by
// waiting for each other until nothing changes.

#include <algorithm>
#include <map>
#include <vector>

#include "loamway/season/season_problem.h"

namespace loamway::test {

class PlainSeason {
public:
    PlainSeason(const SeasonProblem& p, std::vector<int> day_ends)
        : m_p(p), m_day_ends(std::move(day_ends)) {}

    Cents least() {
        m_least = 0;
        for (const SeasonJob& j : m_p.jobs)
            m_least += j.left_out;
        m_lines.assign(m_p.machines.size(), {});
        deal(0);
        return m_least;
    }

private:
    struct Move {
        std::size_t machine;
        int job;  // -1: home
        int from, to;
        const SeasonWay* way;
    };

    // Every job to every machine, or to none.
    void deal(std::size_t job) {
        if (job == m_p.jobs.size()) {
            order(0);
            return;
        }
        deal(job + 1);
        for (std::size_t m = 0; m < m_lines.size(); ++m) {
            if (!m_p.jobs[job].on[m].can)
                continue;
            m_lines[m].push_back(static_cast<int>(job));
            deal(job + 1);
            m_lines[m].pop_back();
        }
    }
    // Every order of every machine's jobs.
    void order(std::size_t machine) {
        if (machine == m_lines.size()) {
            m_moves.clear();
            list_moves();
            choose(0, 0);
            return;
        }
        std::vector<int> kept = m_lines[machine];
        std::sort(m_lines[machine].begin(), m_lines[machine].end());
        do {
            if (turns_kept(m_lines[machine]))
                order(machine + 1);
        } while (std::next_permutation(m_lines[machine].begin(), m_lines[machine].end()));
        m_lines[machine] = kept;
    }
    bool turns_kept(const std::vector<int>& line) const {
        for (std::size_t i = 0; i < line.size(); ++i) {
            const JobTurn turn = m_p.jobs[static_cast<std::size_t>(line[i])].turn;
            if ((turn == JobTurn::first && i > 0) || (turn == JobTurn::last && i + 1 < line.size()))
                return false;
        }
        return true;
    }
    void list_moves() {
        for (std::size_t m = 0; m < m_lines.size(); ++m) {
            int here = m_p.machines[m].start;
            for (const int j : m_lines[m]) {
                const int there = m_p.jobs[static_cast<std::size_t>(j)].place;
                m_moves.push_back({m, j, here, there, nullptr});
                here = there;
            }
            if (!m_lines[m].empty() && m_p.machines[m].home >= 0)
                m_moves.push_back({m, -1, here, m_p.machines[m].home, nullptr});
        }
    }
    // Every way of every move.
    void choose(std::size_t move, Cents cost) {
        if (cost >= m_least)
            return;
        if (move == m_moves.size()) {
            m_trips.assign(m_p.low_beds.size(), {});
            for (std::size_t i = 0; i < m_moves.size(); ++i)
                if (m_moves[i].way != nullptr && m_moves[i].way->low_bed >= 0)
                    m_trips[static_cast<std::size_t>(m_moves[i].way->low_bed)].push_back(i);
            take_turns(0);
            return;
        }
        Move& m = m_moves[move];
        m.way = nullptr;
        if (m.from == m.to)
            choose(move + 1, cost);
        for (const SeasonWay& w : m_p.ways(static_cast<int>(m.machine), m.from, m.to)) {
            if (m.job >= 0) {
                const SeasonJob& j = m_p.jobs[static_cast<std::size_t>(m.job)];
                if ((j.kinds & bit_of(w.kind)) == 0 ||
                    (w.low_bed >= 0 && (j.low_beds >> w.low_bed & 1u) == 0))
                    continue;
            }
            m.way = &w;
            choose(move + 1, cost + w.cost);
        }
    }
    // Every order of every low-bed's trips.
    void take_turns(std::size_t bed) {
        if (bed == m_trips.size()) {
            add_up();
            return;
        }
        std::sort(m_trips[bed].begin(), m_trips[bed].end());
        do
            take_turns(bed + 1);
        while (std::next_permutation(m_trips[bed].begin(), m_trips[bed].end()));
    }

    void add_up() {
        Cents cost = 0;
        std::vector<bool> done(m_p.jobs.size(), false);
        for (std::size_t m = 0; m < m_lines.size(); ++m)
            for (const int j : m_lines[m]) {
                done[static_cast<std::size_t>(j)] = true;
                cost += m_p.jobs[static_cast<std::size_t>(j)].on[m].cost;
            }
        for (std::size_t j = 0; j < done.size(); ++j)
            cost += done[j] ? 0 : m_p.jobs[j].left_out;
        for (const Move& m : m_moves)
            cost += m.way != nullptr ? m.way->cost : 0;
        for (std::size_t b = 0; b < m_trips.size(); ++b) {
            int here = m_p.low_beds[b].base;
            for (const std::size_t i : m_trips[b]) {
                const SeasonWay& w = *m_moves[i].way;
                const EmptyRun& run = m_p.run(static_cast<int>(b), here, w.pick_up);
                if (!run.there)
                    return;
                cost += std::max(m_p.low_beds[b].minimum, w.low_bed_cost + run.cost);
                here = w.drop;
            }
            if (here != m_p.low_beds[b].base) {
                const EmptyRun& run = m_p.run(static_cast<int>(b), here, m_p.low_beds[b].base);
                if (!run.there)
                    return;
                cost += run.cost;
            }
        }
        if (cost < m_least && in_time())
            m_least = cost;
    }

    // A day that holds [t, t + minutes], trying minute by minute.
    int first_fit(int t, int minutes) const {
        if (minutes == 0)
            return t <= m_day_ends.back() ? t : -1;
        for (; t + minutes <= m_day_ends.back(); ++t) {
            int morning = 0;
            for (const int evening : m_day_ends) {
                if (t >= morning && t + minutes <= evening)
                    return t;
                morning = evening;
            }
        }
        return -1;
    }

    // Everyone begins at nought and waits for what must come before, until nothing changes.
    bool in_time() {
        std::vector<int> leave(m_moves.size(), 0);
        const std::size_t rounds = m_moves.size() + 2;
        for (std::size_t round = 0; round <= rounds; ++round) {
            bool changed = false;
            for (std::size_t i = 0; i < m_moves.size(); ++i) {
                const int t = leaves_at(i, leave);
                if (t < 0)
                    return false;
                changed = changed || t != leave[i];
                leave[i] = t;
            }
            if (!changed)
                return ends_in_time(leave);
        }
        return false;  // they wait for each other for ever
    }
    int arrival(std::size_t i, const std::vector<int>& leave) const {
        return leave[i] + (m_moves[i].way != nullptr ? m_moves[i].way->minutes : 0);
    }
    int job_end(std::size_t i, const std::vector<int>& leave) const {
        const SeasonJob& j = m_p.jobs[static_cast<std::size_t>(m_moves[i].job)];
        return std::max(arrival(i, leave), static_cast<int>(j.earliest)) + j.on[m_moves[i].machine].minutes;
    }
    int leaves_at(std::size_t i, const std::vector<int>& leave) const {
        const Move& m = m_moves[i];
        const bool first = i == 0 || m_moves[i - 1].machine != m.machine;
        int ready = first ? m_p.machines[m.machine].free_at : job_end(i - 1, leave);
        if (m.way == nullptr)
            return ready;
        if (m.way->low_bed >= 0) {
            const auto bed = static_cast<std::size_t>(m.way->low_bed);
            int free = m_p.low_beds[bed].free_at, here = m_p.low_beds[bed].base;
            for (const std::size_t trip : m_trips[bed]) {
                if (trip == i)
                    break;
                free = leave[trip] + m_moves[trip].way->load_after + m_moves[trip].way->low_bed_minutes;
                here = m_moves[trip].way->drop;
            }
            const EmptyRun& run = m_p.run(m.way->low_bed, here, m.way->pick_up);
            const int begins = first_fit(free, run.minutes);
            if (begins < 0)
                return -1;
            ready = std::max(ready, begins + static_cast<int>(run.minutes) - m.way->load_after);
        }
        return first_fit(ready, m.way->minutes);
    }
    bool ends_in_time(const std::vector<int>& leave) const {
        for (std::size_t i = 0; i < m_moves.size(); ++i)
            if (m_moves[i].job >= 0 &&
                job_end(i, leave) >
                    std::min(m_day_ends.back(),
                             static_cast<int>(m_p.jobs[static_cast<std::size_t>(m_moves[i].job)].latest)))
                return false;
        for (std::size_t b = 0; b < m_trips.size(); ++b)
            if (!m_trips[b].empty()) {
                const std::size_t last = m_trips[b].back();
                const SeasonWay& w = *m_moves[last].way;
                if (w.drop != m_p.low_beds[b].base &&
                    first_fit(leave[last] + w.load_after + w.low_bed_minutes,
                              m_p.run(static_cast<int>(b), w.drop, m_p.low_beds[b].base).minutes) < 0)
                    return false;
            }
        return true;
    }

    const SeasonProblem& m_p;
    std::vector<int> m_day_ends;
    Cents m_least = 0;
    std::vector<std::vector<int>> m_lines;  // jobs by machine
    std::vector<Move> m_moves;
    std::vector<std::vector<std::size_t>> m_trips;  // moves by low-bed
};

}  // namespace loamway::test

#endif
