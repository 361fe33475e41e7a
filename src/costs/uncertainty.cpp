// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/uncertainty.h"

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/costs/random.h"

namespace loamway {
namespace {

constexpr double z_95 = 1.959963984540054;  // normal quantile at 0.975

std::vector<Quantiles> prepare(std::span<const Spread> spreads) {
    std::vector<Quantiles> out;
    out.reserve(spreads.size());
    for (const Spread& s : spreads)
        out.emplace_back(s);
    return out;
}

double mean_of(std::span<const double> values) {
    double sum = 0;
    for (const double v : values)
        sum += v;
    return sum / static_cast<double>(values.size());
}

/// Nearest rank: the ceil(p n)-th smallest. Reorders `values`.
double nearest_rank(std::vector<double>& values, double p) {
    const double rank = std::ceil(p * static_cast<double>(values.size()) - 1e-9);
    const auto index =
        static_cast<std::size_t>(std::clamp(rank - 1.0, 0.0, static_cast<double>(values.size() - 1)));
    const auto place = values.begin() + static_cast<std::ptrdiff_t>(index);
    std::nth_element(values.begin(), place, values.end());
    return *place;
}

}  // namespace

Interval wilson95(std::size_t hits, std::size_t trials) {
    const double n = static_cast<double>(trials);
    const double p = static_cast<double>(hits) / n;
    const double z2 = z_95 * z_95;
    const double centre = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
    const double half = z_95 * std::sqrt(p * (1.0 - p) / n + z2 / (4.0 * n * n)) / (1.0 + z2 / n);
    return {std::max(0.0, centre - half), std::min(1.0, centre + half)};
}

Trials::Trials(std::span<const Spread> spreads, std::size_t options, std::size_t trials, std::uint64_t seed,
               const PriceOptions& price)
    : m_trials(trials), m_options(options) {
    if (trials == 0 || options == 0)
        throw Error(ErrorKind::input, "no trials can be run without options and a number of trials",
                    "ask for at least one trial");
    const std::vector<Quantiles> inputs = prepare(spreads);
    std::vector<double> multipliers(inputs.size());
    std::vector<double> costs(options);
    m_costs.resize(options * trials);
    m_cheapest.reserve(trials);
    SplitMix64 random(seed);
    for (std::size_t t = 0; t < trials; ++t) {
        for (std::size_t i = 0; i < inputs.size(); ++i)
            multipliers[i] = inputs[i].at(random.uniform());
        price(multipliers, costs);
        for (std::size_t o = 0; o < options; ++o)
            m_costs[o * trials + t] = costs[o];
        m_cheapest.push_back(
            static_cast<std::size_t>(std::min_element(costs.begin(), costs.end()) - costs.begin()));
    }
}

std::span<const double> Trials::costs(std::size_t option) const {
    if (option >= m_options)
        throw Error(ErrorKind::internal, "an option that was not priced");
    return std::span<const double>(m_costs).subspan(option * m_trials, m_trials);
}

double Trials::mean(std::size_t option) const {
    return mean_of(costs(option));
}

double Trials::quantile(std::size_t option, double p) const {
    const std::span<const double> all = costs(option);
    std::vector<double> copy(all.begin(), all.end());
    return nearest_rank(copy, p);
}

double Trials::probability_cheapest(std::size_t option) const {
    const auto hits = std::count(m_cheapest.begin(), m_cheapest.end(), option);
    return static_cast<double>(hits) / static_cast<double>(m_trials);
}

double Trials::regret(std::size_t option) const {
    const std::span<const double> own = costs(option);
    double sum = 0;
    for (std::size_t t = 0; t < m_trials; ++t)
        sum += own[t] - m_costs[m_cheapest[t] * m_trials + t];
    return sum / static_cast<double>(m_trials);
}

Comparison Trials::compare(std::size_t a, std::size_t b) const {
    const std::span<const double> cost_a = costs(a);
    const std::span<const double> cost_b = costs(b);
    const double n = static_cast<double>(m_trials);
    Comparison c;
    c.trials = m_trials;
    std::vector<double> difference(m_trials);
    for (std::size_t t = 0; t < m_trials; ++t) {
        const double d = cost_a[t] - cost_b[t];
        difference[t] = d;
        c.a_cheaper += d < 0 ? 1 : 0;
        c.regret_a += std::max(0.0, d) / n;
        c.regret_b += std::max(0.0, -d) / n;
    }
    c.probability = static_cast<double>(c.a_cheaper) / n;
    c.probability95 = wilson95(c.a_cheaper, m_trials);
    c.mean = mean_of(difference);
    c.p10 = nearest_rank(difference, 0.10);
    c.p50 = nearest_rank(difference, 0.50);
    c.p90 = nearest_rank(difference, 0.90);
    return c;
}

Tornado tornado(std::span<const Spread> spreads,
                const std::function<double(std::span<const double> multipliers)>& outcome) {
    const std::vector<Quantiles> inputs = prepare(spreads);
    std::vector<double> at;
    for (const Spread& s : spreads)
        at.push_back(s.mode);
    Tornado out;
    out.base = outcome(at);
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        TornadoBar bar;
        bar.name = spreads[i].name;
        bar.input_p10 = inputs[i].at(0.10);
        bar.input_p90 = inputs[i].at(0.90);
        at[i] = bar.input_p10;
        bar.at_p10 = outcome(at);
        at[i] = bar.input_p90;
        bar.at_p90 = outcome(at);
        at[i] = spreads[i].mode;
        bar.swing = std::abs(bar.at_p90 - bar.at_p10);
        out.bars.push_back(std::move(bar));
    }
    std::sort(out.bars.begin(), out.bars.end(), [](const TornadoBar& a, const TornadoBar& b) {
        return a.swing != b.swing ? a.swing > b.swing : a.name < b.name;
    });
    return out;
}

}  // namespace loamway
