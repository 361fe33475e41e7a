// SPDX-License-Identifier: Apache-2.0
#include "priced_chains.h"

#include <algorithm>
#include <cmath>

namespace loamway {

namespace {

constexpr double none = std::numeric_limits<double>::infinity();

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

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

}  // namespace

PricedChains::PricedChains(const SeasonProblem& p, const LeastCosts& least)
    : m_p(p), m_jobs(p.job_count()), m_plain(m_jobs + 1) {
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

Cents PricedChains::raise(Cents known, int rounds) {
    std::vector<double> price(at(m_jobs), 0), slope(at(m_jobs), 0);
    m_price = price;
    m_chains_price = 0;
    double chains_price = 0, best = 0, step = 1.2;
    int since = 0;
    for (int round = 0; round < rounds; ++round) {
        double chains = 0;
        const double value = bound_at(price, chains_price, slope, chains);
        if (value > best + 1e-6) {
            best = value;
            m_price = price;
            m_chains_price = chains_price;
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
    m_end = none;
    for (int j = 0; j < m_jobs; ++j)
        m_end = std::min(m_end, m_home[at(j)] + m_price[at(j)]);
    // What is rounded away must not lift the bound over the least cost.
    return std::min(known, static_cast<Cents>(std::ceil(best - 0.01)));
}

/// The least arborescence with these prices. `slope`: how often each job is left beyond once; `chains`:
/// how many there are beyond the machines.
double PricedChains::bound_at(const std::vector<double>& price, double chains_price,
                              std::vector<double>& slope, double& chains) const {
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

// Each job that is left and each machine under way is left once more, to a job or home; so all prices of them
// come back from what the steps pay.
Cents PricedChains::to_go(std::uint64_t done, std::span<const int> last, int unused) const {
    double sum = -m_chains_price * unused;
    for (const int l : last)
        sum += m_end - m_price[at(l)];
    for (int j = 0; j < m_jobs; ++j) {
        if ((done >> j & 1u) != 0)
            continue;
        double least = std::min(m_plain(0, j + 1) + m_chains_price + m_end,
                                static_cast<double>(m_p.jobs[at(j)].left_out) + m_price[at(j)]);
        for (int i = 0; i < m_jobs; ++i)
            if ((done >> i & 1u) == 0)
                least = std::min(least, m_plain(i + 1, j + 1) + m_price[at(i)]);
        for (const int l : last)
            least = std::min(least, m_plain(l + 1, j + 1) + m_price[at(l)]);
        sum += least - m_price[at(j)];
    }
    return sum < static_cast<double>(no_cost) ? static_cast<Cents>(std::floor(sum + 1e-3)) : no_cost;
}

}  // namespace loamway
