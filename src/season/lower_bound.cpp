// SPDX-License-Identifier: Apache-2.0
// A season is a forest of chains: each job follows one machine's start or one other job. Without the rule
// that a job is followed by one thing only, and with the cheapest machine for each step, the cheapest season
// is a least arborescence (Chu and Liu 1965, Edmonds 1967); prices on leaving a job more or less than once
// bring it nearer to chains (Held and Karp 1970, for directed tours).
#include <algorithm>
#include <cmath>
#include <limits>

#include "loamway/season/season_solve.h"
#include "season_least.h"

namespace loamway {

namespace {

constexpr double none = std::numeric_limits<double>::infinity();

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Square table of costs; node 0 is the root.
class Arcs {
public:
    explicit Arcs(int nodes) : m_nodes(nodes), m_cost(at(nodes * nodes), none) {}
    [[nodiscard]] int nodes() const { return m_nodes; }
    [[nodiscard]] double& operator()(int from, int to) { return m_cost[at(from * m_nodes + to)]; }
    [[nodiscard]] double operator()(int from, int to) const { return m_cost[at(from * m_nodes + to)]; }

private:
    int m_nodes;
    std::vector<double> m_cost;
};

/// A node that stands on a circle of cheapest arcs, or -1.
int on_circle(const std::vector<int>& before) {
    std::vector<int> seen(before.size(), -1);
    for (int v = 1; v < static_cast<int>(before.size()); ++v) {
        int u = v;
        while (u > 0 && seen[at(u)] < 0) {
            seen[at(u)] = v;
            u = before[at(u)];
        }
        if (u > 0 && seen[at(u)] == v)
            return u;
    }
    return -1;
}

/// Predecessors of the least arborescence; every node must be reachable from the root.
std::vector<int> least_arborescence(const Arcs& arcs) {
    const int n = arcs.nodes();
    std::vector<int> before(at(n), -1);
    for (int v = 1; v < n; ++v)
        for (int u = 0; u < n; ++u)
            if (u != v && (before[at(v)] < 0 || arcs(u, v) < arcs(before[at(v)], v)))
                before[at(v)] = u;
    const int start = on_circle(before);
    if (start < 0)
        return before;
    std::vector<bool> inside(at(n), false);
    for (int v = start; !inside[at(v)]; v = before[at(v)])
        inside[at(v)] = true;
    // The circle becomes the last node of a smaller table.
    std::vector<int> outside;
    for (int v = 0; v < n; ++v)
        if (!inside[at(v)])
            outside.push_back(v);
    const int circle = static_cast<int>(outside.size());
    Arcs smaller(circle + 1);
    std::vector<int> enters(at(circle), -1), leaves(at(circle), -1);
    for (int i = 0; i < circle; ++i) {
        const int u = outside[at(i)];
        for (int k = 0; k < circle; ++k)
            if (k != i)
                smaller(i, k) = arcs(u, outside[at(k)]);
        for (int v = 0; v < n; ++v) {
            if (!inside[at(v)])
                continue;
            const double in = arcs(u, v) - arcs(before[at(v)], v);
            if (in < smaller(i, circle)) {
                smaller(i, circle) = in;
                enters[at(i)] = v;
            }
            if (arcs(v, u) < smaller(circle, i)) {
                smaller(circle, i) = arcs(v, u);
                leaves[at(i)] = v;
            }
        }
    }
    const std::vector<int> chosen = least_arborescence(smaller);
    for (int i = 1; i < circle; ++i) {
        const int b = chosen[at(i)];
        before[at(outside[at(i)])] = b == circle ? leaves[at(i)] : outside[at(b)];
    }
    const int from = chosen[at(circle)];
    before[at(enters[at(from)])] = outside[at(from)];
    return before;
}

class PricedChains {
public:
    explicit PricedChains(const SeasonProblem& p) : m_p(p), m_jobs(p.job_count()), m_plain(m_jobs + 1) {
        const LeastCosts least(p);
        const auto units = [](Cents c) { return c >= no_cost ? none : static_cast<double>(c); };
        m_home.assign(at(m_jobs), none);
        for (int j = 0; j < m_jobs; ++j)
            for (int m = 0; m < p.machine_count(); ++m) {
                m_home[at(j)] = std::min(m_home[at(j)], units(least.home(m, j)));
                for (int i = -1; i < m_jobs; ++i)
                    if (i != j)
                        m_plain(i + 1, j + 1) = std::min(m_plain(i + 1, j + 1), units(least.follow(m, i, j)));
            }
    }

    Cents raise(Cents known, int rounds) {
        std::vector<double> price(at(m_jobs), 0), slope(at(m_jobs), 0), best_price;
        double chains_price = 0, best = 0, step = 1.2;
        int since = 0;
        for (int round = 0; round < rounds; ++round) {
            double chains = 0;
            const double value = bound_at(price, chains_price, slope, chains);
            if (value > best + 1e-6) {
                best = value;
                since = 0;
            } else if (++since > 12) {
                step *= 0.7;
                since = 0;
            }
            double norm = chains * chains;
            for (const double s : slope)
                norm += s * s;
            if (norm <= 0 || step < 1e-4)
                break;
            const double length = step * std::max(1.0, static_cast<double>(known) - value) / norm;
            for (std::size_t j = 0; j < price.size(); ++j)
                price[j] += length * slope[j];
            chains_price = std::max(0.0, chains_price + length * chains);
        }
        // What is rounded away must not lift the bound over the least cost.
        return std::min(known, static_cast<Cents>(std::ceil(best - 0.01)));
    }

private:
    /// The least arborescence with these prices. `slope`: how often each job is left beyond once; `chains`:
    /// how many there are beyond the machines.
    double bound_at(const std::vector<double>& price, double chains_price, std::vector<double>& slope,
                    double& chains) const {
        int ends_at = 0;  // the job whose way home is cheapest
        double end = none;
        for (int j = 0; j < m_jobs; ++j)
            if (m_home[at(j)] + price[at(j)] < end) {
                end = m_home[at(j)] + price[at(j)];
                ends_at = j;
            }
        Arcs arcs(m_jobs + 1);
        std::vector<bool> left_out(at(m_jobs), false);
        double value = -chains_price * m_p.machine_count();
        for (int j = 0; j < m_jobs; ++j) {
            const double begin = m_plain(0, j + 1) + chains_price + end;
            const double leave = static_cast<double>(m_p.jobs[at(j)].left_out) + price[at(j)];
            left_out[at(j)] = leave < begin;
            arcs(0, j + 1) = std::min(begin, leave);
            for (int i = 0; i < m_jobs; ++i)
                if (i != j)
                    arcs(i + 1, j + 1) = m_plain(i + 1, j + 1) + price[at(i)];
            value -= price[at(j)];
        }
        std::fill(slope.begin(), slope.end(), -1.0);
        chains = -m_p.machine_count();
        const std::vector<int> before = least_arborescence(arcs);
        for (int j = 0; j < m_jobs; ++j) {
            const int b = before[at(j + 1)];
            value += arcs(b, j + 1);
            if (b > 0) {
                slope[at(b - 1)] += 1;
            } else if (left_out[at(j)]) {
                slope[at(j)] += 1;
            } else {
                slope[at(ends_at)] += 1;
                chains += 1;
            }
        }
        return value;
    }

    const SeasonProblem& m_p;
    int m_jobs;
    Arcs m_plain;
    std::vector<double> m_home;
};

}  // namespace

Cents lower_bound(const SeasonProblem& p, Cents known_cost, int rounds) {
    return p.jobs.empty() ? 0 : PricedChains(p).raise(known_cost, rounds);
}

SolvedSeason solve_season(const SeasonProblem& p, const ImproveOptions& options, int most_exact_jobs) {
    SolvedSeason out;
    out.solution = improve_season(p, options);
    if (p.job_count() <= std::min(most_exact_jobs, 64)) {
        ExactOptions exact;
        exact.known = out.solution;
        if (std::optional<SeasonSolution> best = solve_exactly(p, exact)) {
            out.solution = std::move(*best);
            out.bound = out.solution.cost;
            out.exact = true;
            return out;
        }
    }
    out.bound = lower_bound(p, out.solution.cost);
    return out;
}

}  // namespace loamway
