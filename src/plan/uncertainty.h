// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_UNCERTAINTY_H
#define LOAMWAY_SRC_PLAN_UNCERTAINTY_H

// How sure the advice is: trials over all options that can be done, what moves the comparison most, and what
// would turn it. The advice itself is the option with the least mean of its trials.

#include <optional>
#include <vector>

#include "loamway/costs/option_figures.h"
#include "loamway/plan/plan.h"
#include "setting.h"

namespace loamway {

/// Needs the plan's options with their figures. Fills in each option's mean, low and high and the plan's
/// uncertainty; nothing when no option can be done.
void work_out_uncertainty(const Setting& setting, Plan& plan);

/// What an option is judged by: the mean of its trials, without trials its cost as estimated. Of what
/// can be done only: nothing else has a cost.
[[nodiscard]] double expected_cost(const Option& o);
/// Cost with every input at the mean of its range: next to expected_cost, for the price of one trial.
[[nodiscard]] double cost_at_means(const Setting& setting, const OptionFigures& f);
/// The first of the options (of that mode) that can be done with the least expected cost; null when none can.
/// Of all modes it is what is advised.
[[nodiscard]] const Option* cheapest_option(const std::vector<Option>& options,
                                            std::optional<Mode> mode = std::nullopt);

}  // namespace loamway

#endif
