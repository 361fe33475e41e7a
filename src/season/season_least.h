// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_LEAST_H
#define LOAMWAY_SRC_SEASON_SEASON_LEAST_H

// The least that parts of a season can cost, whoever does them and wherever low-beds come from.

#include <limits>
#include <vector>

#include "loamway/season/season_timing.h"

namespace loamway {

constexpr Cents no_cost = std::numeric_limits<Cents>::max() / 8;  // of what cannot be

class LeastCosts {
public:
    explicit LeastCosts(const SeasonProblem& p);

    /// The move there with the work of the job; from the machine's start where `before` is -1. no_cost where
    /// windows or machines stand against it.
    [[nodiscard]] Cents follow(int machine, int before, int job) const;
    /// The move home after the job; nothing where the machine may stay.
    [[nodiscard]] Cents home(int machine, int job) const;
    /// Getting to the job from anywhere and doing it, by whichever machine, or leaving it out.
    [[nodiscard]] Cents any_way_in(int job) const { return m_any_in[static_cast<std::size_t>(job)]; }

    /// Of a move, the low-bed coming from wherever it is nearest.
    [[nodiscard]] Cents way(const SeasonWay& w) const;

private:
    [[nodiscard]] Cents move(int machine, int from, int to, int job) const;

    const SeasonProblem& m_p;
    std::vector<Cents> m_approach;  // by low-bed and pick-up
    std::vector<Cents> m_any_in;
};

}  // namespace loamway

#endif
