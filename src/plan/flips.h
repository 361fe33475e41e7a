// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_FLIPS_H
#define LOAMWAY_SRC_PLAN_FLIPS_H

// The inputs nearest to turning the advice, and the value at which each does.

#include <functional>
#include <span>
#include <string_view>
#include <vector>

#include "loamway/costs/option_figures.h"
#include "loamway/plan/plan.h"
#include "setting.h"

namespace loamway {

/// Cost of the advised option less that of the other with inputs drawn so.
using Difference = std::function<double(std::span<const double> inputs)>;

struct FlipPair {
    const Option& advised;
    const Option& next;
};

/// "belt wear on paved roads".
[[nodiscard]] std::string_view words_of(MoveInput i);

/// At most three, nearest first: an input's likeliest value is moved, its range with it, until the mean of
/// the difference turns. The first of the plan's trials stand for all of them, shifted to their mean
/// (`mean`). Inputs are followed to twice the width of their range.
[[nodiscard]] std::vector<CostFlip> find_flips(const Setting& setting, std::span<const Spread> spreads,
                                               const Difference& difference, double mean,
                                               const FlipPair& pair);

}  // namespace loamway

#endif
