// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <chrono>
#include <cmath>
#include <numeric>
#include <random>

#include "choose_ways.h"
#include "loamway/season/season_solve.h"
#include "season_insertion.h"

namespace loamway {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class Improver {
public:
    Improver(const SeasonProblem& p, const ImproveOptions& options)
        : m_p(p), m_options(options), m_least(p), m_inserter(p, m_least), m_random(options.seed) {
        find_neighbours();
    }

    SeasonSolution run() {
        std::vector<int> bank(m_p.jobs.size());
        std::iota(bank.begin(), bank.end(), 0);
        put_back({}, bank);
        m_now = m_best = m_trial;
        const auto begun = std::chrono::steady_clock::now();
        const double hot = average_move(), cold = hot / 500;
        for (int round = 0; round < m_options.rounds && m_p.job_count() > 0; ++round) {
            if (round % 64 == 0 && stop(begun, round))
                break;
            const double heat = hot * std::pow(cold / hot, static_cast<double>(round) / m_options.rounds);
            one_round(heat);
        }
        SeasonSolution out;
        out.tasks = m_best.tasks;
        (void)time_all(m_p, out);
        return out;
    }

private:
    struct Season {
        std::vector<SeasonTask> tasks;
        std::vector<int> left_out;
        Cents cost = 0;
    };

    bool stop(std::chrono::steady_clock::time_point begun, int round) const {
        if (m_options.progress)
            m_options.progress(static_cast<double>(round) / m_options.rounds);
        const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begun;
        return m_options.time_limit && spent.count() > m_options.time_limit->seconds();
    }
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(m_random() % n); }
    double share() { return static_cast<double>(m_random() >> 11) * 0x1.0p-53; }

    void one_round(double heat) {
        std::vector<SeasonTask> tasks = m_now.tasks;
        std::vector<bool> out(m_p.jobs.size(), false);
        std::vector<int> bank = m_now.left_out;
        take_out(out);
        if (!m_inserter.remove(tasks, out))
            return;
        for (int j = 0; j < m_p.job_count(); ++j)
            if (out[at(j)])
                bank.push_back(j);
        put_back(std::move(tasks), bank);
        if (m_trial.cost >= no_cost)
            return;
        if (below(4) == 0)
            choose_all_ways();
        // Metropolis: what is dearer by x stays with probability exp(-x / heat).
        const double more = static_cast<double>(m_trial.cost - m_now.cost);
        if (more < -heat * std::log(std::max(share(), 1e-12)))
            m_now = m_trial;
        if (m_trial.cost < m_best.cost)
            m_best = m_trial;
    }

    void choose_all_ways() {
        std::vector<SeasonTask> other = choose_ways(m_p, m_trial.tasks, 12);
        const Cents cost = other.empty() ? no_cost : cost_of_tasks(m_p, other);
        const Cents was = cost_of_tasks(m_p, m_trial.tasks);
        if (cost < was) {
            m_trial.tasks = std::move(other);
            m_trial.cost += cost - was;
        }
    }

    /// Either the jobs nearest to one, or runs of jobs from the machines that come near it.
    void take_out(std::vector<bool>& out) {
        const std::size_t jobs = m_p.jobs.size();
        const std::size_t most = std::min<std::size_t>({jobs, 10, 2 + jobs / 3});
        std::size_t left = 1 + below(most);
        const std::size_t seed = below(jobs);
        const bool runs = below(2) == 0;
        for (const int near : m_near[seed]) {
            if (left == 0)
                return;
            if (out[at(near)] || (!runs && below(8) == 0))
                continue;
            if (runs)
                left -= take_run(near, std::min<std::size_t>(left, 1 + below(5)), out);
            else
                --left;
            out[at(near)] = true;
        }
    }
    /// Jobs that follow each other on one machine, this one among them; how many.
    std::size_t take_run(int job, std::size_t length, std::vector<bool>& out) {
        int machine = -1;
        for (const SeasonTask& t : m_now.tasks)
            if (t.job == job)
                machine = t.machine;
        if (machine < 0)
            return 0;
        std::vector<int> line;
        std::size_t here = 0;
        for (const SeasonTask& t : m_now.tasks)
            if (t.machine == machine && t.job != home_task) {
                if (t.job == job)
                    here = line.size();
                line.push_back(t.job);
            }
        const std::size_t back = std::min(here, below(length));
        std::size_t taken = 0;
        for (std::size_t i = here - back; i < line.size() && i < here - back + length; ++i)
            if (!out[at(line[i])]) {
                out[at(line[i])] = true;
                ++taken;
            }
        return std::max<std::size_t>(taken, 1);
    }

    /// Into m_trial.
    void put_back(std::vector<SeasonTask> tasks, std::vector<int>& bank) {
        m_trial.tasks = std::move(tasks);
        m_trial.left_out.clear();
        if (bank.size() <= 6 && below(2) == 0)
            put_back_by_regret(bank);
        else
            put_back_in_turn(bank);
        m_trial.cost = cost_of_tasks(m_p, m_trial.tasks);
        if (m_trial.cost < no_cost)
            for (const int j : m_trial.left_out)
                m_trial.cost += m_p.jobs[at(j)].left_out;
    }
    void put_back_in_turn(std::vector<int>& bank) {
        for (std::size_t i = bank.size(); i > 1; --i)
            std::swap(bank[i - 1], bank[below(i)]);
        const std::size_t order = below(3);
        if (order > 0)
            std::stable_sort(bank.begin(), bank.end(), [&](int a, int b) {
                const SeasonJob &x = m_p.jobs[at(a)], &y = m_p.jobs[at(b)];
                return order == 1 ? x.latest < y.latest : m_least.any_way_in(a) > m_least.any_way_in(b);
            });
        for (const int j : bank) {
            m_inserter.find(m_trial.tasks, j, m_random(), m_insertion);
            take(j, m_insertion);
        }
    }
    void put_back_by_regret(std::vector<int> bank) {
        while (!bank.empty()) {
            std::size_t chosen = 0;
            Cents regret = -1;
            for (std::size_t i = 0; i < bank.size(); ++i) {
                m_inserter.find(m_trial.tasks, bank[i], m_random(), m_insertion);
                const Cents lost = m_insertion.second - m_insertion.cost;
                if (lost > regret) {
                    regret = lost;
                    chosen = i;
                    std::swap(m_chosen, m_insertion);
                }
            }
            take(bank[chosen], m_chosen);
            bank.erase(bank.begin() + static_cast<std::ptrdiff_t>(chosen));
        }
    }
    void take(int job, Insertion& insertion) {
        if (insertion.cost < no_cost)
            std::swap(m_trial.tasks, insertion.tasks);
        else
            m_trial.left_out.push_back(job);
    }

    void find_neighbours() {
        const int n = m_p.job_count();
        m_near.resize(at(n));
        std::vector<Cents> far(at(n));
        for (int i = 0; i < n; ++i) {
            for (int j = 0; j < n; ++j)
                far[at(j)] = apart(i, j);
            m_near[at(i)].resize(at(n));
            std::iota(m_near[at(i)].begin(), m_near[at(i)].end(), 0);
            std::stable_sort(m_near[at(i)].begin(), m_near[at(i)].end(),
                             [&](int a, int b) { return far[at(a)] < far[at(b)]; });
        }
    }
    [[nodiscard]] Cents apart(int i, int j) const {
        const int from = m_p.jobs[at(i)].place, to = m_p.jobs[at(j)].place;
        Cents least = from == to ? (i == j ? -1 : 0) : no_cost;
        for (int m = 0; m < m_p.machine_count(); ++m)
            for (const SeasonWay& w : m_p.ways(m, from, to))
                least = std::min(least, m_least.way(w));
        return least;
    }
    /// What a move to a job costs at least, on average: the scale of what the search may lose.
    [[nodiscard]] double average_move() const {
        double sum = 1;
        for (int j = 0; j < m_p.job_count(); ++j) {
            Cents work = no_cost;
            for (const SeasonWork& w : m_p.jobs[at(j)].on)
                if (w.can)
                    work = std::min(work, w.cost);
            if (work < no_cost && m_least.any_way_in(j) < m_p.jobs[at(j)].left_out)
                sum += static_cast<double>(m_least.any_way_in(j) - work);
        }
        return std::max(100.0, sum / std::max(1, m_p.job_count()));
    }

    const SeasonProblem& m_p;
    const ImproveOptions& m_options;
    LeastCosts m_least;
    Inserter m_inserter;
    std::mt19937_64 m_random;
    std::vector<std::vector<int>> m_near;
    Season m_now, m_best, m_trial;
    Insertion m_insertion, m_chosen;
};

}  // namespace

SeasonSolution improve_season(const SeasonProblem& p, const ImproveOptions& options) {
    return Improver(p, options).run();
}

}  // namespace loamway
