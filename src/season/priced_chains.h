// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_PRICED_CHAINS_H
#define LOAMWAY_SRC_SEASON_PRICED_CHAINS_H

// What seasons cost at least. A season is a forest of chains: each job follows one machine's start or one
// other job. Without the rule that a job is followed by one thing only, and with the cheapest machine for
// each step, the cheapest season is a least arborescence (Chu and Liu 1965, Edmonds 1967); prices on leaving
// a job more or less than once bring it nearer to chains (Held and Karp 1970, for tours).

#include <limits>
#include <span>
#include <vector>

#include "season_least.h"

namespace loamway {

/// Square table of costs; node 0 is the root.
class Arcs {
public:
    explicit Arcs(int nodes)
        : m_nodes(nodes),
          m_cost(static_cast<std::size_t>(nodes * nodes), std::numeric_limits<double>::infinity()) {}
    [[nodiscard]] int nodes() const { return m_nodes; }
    [[nodiscard]] double& operator()(int from, int to) {
        return m_cost[static_cast<std::size_t>(from * m_nodes + to)];
    }
    [[nodiscard]] double operator()(int from, int to) const {
        return m_cost[static_cast<std::size_t>(from * m_nodes + to)];
    }

private:
    int m_nodes;
    std::vector<double> m_cost;
};

class PricedChains {
public:
    PricedChains(const SeasonProblem& p, const LeastCosts& least);

    /// Looks for prices under which the bound is high; the best bound that was met. Never above `known`.
    Cents raise(Cents known, int rounds);

    /// What is still to be paid at least, with the best prices met: `done` says which jobs are done, `last`
    /// the last job of each machine that is under way, `unused` how many machines have done nothing. At most
    /// 64 jobs.
    [[nodiscard]] Cents to_go(std::uint64_t done, std::span<const int> last, int unused) const;

private:
    [[nodiscard]] double bound_at(const std::vector<double>& price, double chains_price,
                                  std::vector<double>& slope, double& chains) const;

    const SeasonProblem& m_p;
    int m_jobs;
    Arcs m_plain;                // by job + 1; 0 is where machines start
    std::vector<double> m_home;  // by job
    std::vector<double> m_price;
    double m_chains_price = 0, m_end = 0;  // m_end: the least priced way home
};

}  // namespace loamway

#endif
