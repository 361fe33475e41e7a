// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_COSTS_UNCERTAINTY_H
#define LOAMWAY_COSTS_UNCERTAINTY_H

// How sure a comparison of costs is. Every trial draws each input once and prices all options with it (common
// random numbers), so that what is in every option cancels. Drawn in the order of the spreads from
// SplitMix64: the same seed gives the same answer on any machine. With common samples the smaller regret
// belongs to the smaller mean cost: decide by the mean, print the regret as the cost of being wrong.

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "loamway/costs/spread.h"

namespace loamway {

struct Interval {
    double low = 0, high = 0;
};
/// Wilson's 95 % interval of a share of which `hits` in `trials` were seen; needs trials > 0.
[[nodiscard]] Interval wilson95(std::size_t hits, std::size_t trials);

/// Nobody should lean on the cheaper one: the probability lies between 0.35 and 0.65 (assumption).
[[nodiscard]] constexpr bool too_close(double probability) {
    return probability > 0.35 && probability < 0.65;
}

/// Option a against option b.
struct Comparison {
    std::size_t trials = 0;
    std::size_t a_cheaper = 0;  // in how many
    double probability = 0;     // that a is cheaper
    Interval probability95;
    double mean = 0;  // of cost a - cost b
    double p10 = 0, p50 = 0, p90 = 0;
    double regret_a = 0;  // mean of what choosing a costs more than b, where it does
    double regret_b = 0;
    [[nodiscard]] bool too_close() const { return loamway::too_close(probability); }
};

/// Prices every option with one draw: `multipliers` stand beside the spreads, `costs` has a place per option.
using PriceOptions = std::function<void(std::span<const double> multipliers, std::span<double> costs)>;

class Trials {
public:
    /// Runs them. Input Error without spreads' order, options or trials.
    Trials(std::span<const Spread> spreads, std::size_t options, std::size_t trials, std::uint64_t seed,
           const PriceOptions& price);

    [[nodiscard]] std::size_t trials() const { return m_trials; }
    [[nodiscard]] std::size_t options() const { return m_options; }
    /// One option's cost in every trial.
    [[nodiscard]] std::span<const double> costs(std::size_t option) const;
    [[nodiscard]] double mean(std::size_t option) const;
    /// Smallest cost that a share p of the trials does not exceed (nearest rank).
    [[nodiscard]] double quantile(std::size_t option, double p) const;
    /// Share of trials in which the option is the cheapest; of equally cheap ones the first counts.
    [[nodiscard]] double probability_cheapest(std::size_t option) const;
    /// Mean of what the option costs more than the cheapest one of its trial.
    [[nodiscard]] double regret(std::size_t option) const;
    [[nodiscard]] Comparison compare(std::size_t a, std::size_t b) const;

private:
    std::size_t m_trials;
    std::size_t m_options;
    std::vector<double> m_costs;          // option by option
    std::vector<std::size_t> m_cheapest;  // per trial
};

/// One input moved to its own 10th and 90th hundredth, the others at their likeliest value.
struct TornadoBar {
    std::string name;
    double input_p10 = 0, input_p90 = 0;
    double at_p10 = 0, at_p90 = 0;
    double swing = 0;  // how far the two lie apart
};
struct Tornado {
    double base = 0;
    std::vector<TornadoBar> bars;  // widest first; equal ones by name
};
[[nodiscard]] Tornado tornado(std::span<const Spread> spreads,
                              const std::function<double(std::span<const double> multipliers)>& outcome);

}  // namespace loamway

#endif
