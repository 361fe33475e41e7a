// SPDX-License-Identifier: Apache-2.0
#include "uncertainty.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "flips.h"
#include "loamway/costs/uncertainty.h"

namespace loamway {

namespace {

std::vector<const Option*> priced_options(const Plan& plan) {
    std::vector<const Option*> out;
    for (const Option& o : plan.options)
        if (o.feasible && o.figures)
            out.push_back(&o);
    return out;
}

Trials run_trials(const Setting& setting, const std::vector<const Option*>& options,
                  const std::vector<Spread>& spreads) {
    const PlanInputs& in = setting.in();
    return {spreads, options.size(), static_cast<std::size_t>(in.trials), in.seed,
            [&](std::span<const double> draw, std::span<double> costs) {
                const Rates rates = drawn_rates(in.rates, draw);
                for (std::size_t i = 0; i < options.size(); ++i)
                    costs[i] = drawn_cost(*options[i]->figures, rates, draw).units();
            }};
}

std::size_t least_mean(const Trials& trials) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < trials.options(); ++i)
        if (trials.mean(i) < trials.mean(best))
            best = i;
    return best;
}

// The best option of another mode; without one the next best of the same.
std::optional<std::size_t> rival_of(std::size_t advised, const std::vector<const Option*>& options,
                                    const Trials& trials) {
    std::optional<std::size_t> best;
    const auto other = [&](std::size_t i) { return options[i]->mode != options[advised]->mode; };
    for (std::size_t i = 0; i < options.size(); ++i) {
        if (i == advised)
            continue;
        const bool better =
            !best || (other(i) != other(*best) ? other(i) : trials.mean(i) < trials.mean(*best));
        if (better)
            best = i;
    }
    return best;
}

// Share of trials in which some option of the advised one's mode is the cheapest.
double share_of_mode(std::size_t advised, const std::vector<const Option*>& options, const Trials& trials) {
    std::size_t hits = 0;
    for (std::size_t t = 0; t < trials.trials(); ++t) {
        double own = std::numeric_limits<double>::infinity(), others = own;
        for (std::size_t i = 0; i < options.size(); ++i) {
            double& least = options[i]->mode == options[advised]->mode ? own : others;
            least = std::min(least, trials.costs(i)[t]);
        }
        hits += own <= others ? 1 : 0;
    }
    return static_cast<double>(hits) / static_cast<double>(trials.trials());
}

CostComparison compare(const std::vector<const Option*>& options, const Trials& trials, std::size_t advised,
                       std::size_t next) {
    const Comparison c = trials.compare(advised, next);
    CostComparison out;
    out.option = options[advised]->id;
    out.next = options[next]->id;
    out.probability = c.probability;
    out.low95 = c.probability95.low;
    out.high95 = c.probability95.high;
    out.mean = c.mean;
    out.p10 = c.p10;
    out.p50 = c.p50;
    out.p90 = c.p90;
    out.cost_of_being_wrong = c.regret_a;
    out.next_regret = c.regret_b;
    return out;
}

void add_tornado(const std::vector<Spread>& spreads, const Difference& difference, PlanUncertainty& u) {
    const Tornado t = tornado(spreads, difference);
    u.tornado_base = t.base;
    for (const TornadoBar& b : t.bars)
        u.tornado.push_back({b.name, b.input_p10, b.input_p90, b.at_p10, b.at_p90, b.swing});
}

void price_on_the_other_basis(const Rates& rates, Plan& plan) {
    Rates other = rates;
    other.basis = rates.basis == CostBasis::full ? CostBasis::marginal : CostBasis::full;
    for (Option& o : plan.options)
        if (o.figures)
            o.cost.other_basis_total = option_parts(*o.figures, other).total().units();
}

std::string band_basis(const PlanInputs& in) {
    return fmt::format(
        "10 and 90 in 100 of {} trials, and the estimate: prices, times, wear, fuel, heat and assumed "
        "surfaces within their ranges",
        in.trials);
}

}  // namespace

void work_out_uncertainty(const Setting& setting, Plan& plan) {
    const PlanInputs& in = setting.in();
    price_on_the_other_basis(in.rates, plan);
    const std::vector<const Option*> options = priced_options(plan);
    if (options.empty())
        return;
    const std::vector<Spread> spreads = move_spreads(in.wear.sd_share);
    const Trials trials = run_trials(setting, options, spreads);
    PlanUncertainty u;
    u.trials = in.trials;
    u.seed = in.seed;
    for (const Spread& s : spreads)
        u.inputs.push_back({s.name, s.low, s.mode, s.high});
    for (std::size_t i = 0; i < options.size(); ++i)
        u.options.push_back({options[i]->id, trials.mean(i), trials.quantile(i, 0.1), trials.quantile(i, 0.5),
                             trials.quantile(i, 0.9), trials.probability_cheapest(i), trials.regret(i)});
    const std::size_t advised = least_mean(trials);
    if (const auto next = rival_of(advised, options, trials)) {
        u.comparison = compare(options, trials, advised, *next);
        const Difference difference = [&](std::span<const double> draw) {
            const Rates rates = drawn_rates(in.rates, draw);
            return (drawn_cost(*options[advised]->figures, rates, draw) -
                    drawn_cost(*options[*next]->figures, rates, draw))
                .units();
        };
        add_tornado(spreads, difference, u);
        if (options[*next]->mode != options[advised]->mode) {
            u.mode_probability = share_of_mode(advised, options, trials);
            u.flips = find_flips(setting, spreads, difference, u.comparison->mean,
                                 {*options[advised], *options[*next]});
        }
    }
    for (Option& o : plan.options)
        for (const OptionTrials& t : u.options)
            if (t.option == o.id && o.feasible && o.figures) {
                o.cost.mean = t.mean;
                // Most inputs can turn out dearer rather than cheaper, so the estimate may lie below the
                // band.
                o.cost.low = std::min(t.p10, *o.cost.total);
                o.cost.high = std::max(t.p90, *o.cost.total);
                o.cost.low_high_basis = band_basis(in);
            }
    plan.uncertainty = std::move(u);
}

const Option* cheapest_option(const std::vector<Option>& options, std::optional<Mode> mode) {
    const Option* best = nullptr;
    for (const Option& o : options)
        if (o.feasible && (!mode || o.mode == *mode) &&
            (best == nullptr || expected_cost(o) < expected_cost(*best)))
            best = &o;
    return best;
}

double cost_at_means(const Setting& setting, const OptionFigures& f) {
    std::vector<double> means;
    for (const Spread& s : move_spreads(setting.in().wear.sd_share))
        means.push_back((s.low + s.mode + s.high) / 3);
    return drawn_cost(f, drawn_rates(setting.in().rates, means), means).units();
}

double expected_cost(const Option& o) {
    return o.cost.mean ? *o.cost.mean : o.cost.total.value();
}

}  // namespace loamway
