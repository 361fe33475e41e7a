// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_UNCERTAINTY_JSON_H
#define LOAMWAY_SRC_PLAN_UNCERTAINTY_JSON_H

// "uncertainty" and "break_even" of plan JSON, both ways.

#include <optional>

#include "json_reader.h"
#include "loamway/plan/plan_uncertainty.h"
#include "loamway/text/value.h"

namespace loamway {

[[nodiscard]] Value uncertainty_json(const std::optional<PlanUncertainty>& u);
[[nodiscard]] Value break_even_json(const std::optional<PlanBreakEven>& b);
/// Both refuse what is no figure or stands where it cannot be.
[[nodiscard]] PlanUncertainty read_uncertainty(const JsonReader& r);
[[nodiscard]] PlanBreakEven read_break_even(const JsonReader& r);

}  // namespace loamway

#endif
