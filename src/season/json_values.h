// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_JSON_VALUES_H
#define LOAMWAY_SRC_SEASON_JSON_VALUES_H

// Figures and lists as the JSON of budgets and seasons has them.

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "loamway/text/value.h"

namespace loamway {

[[nodiscard]] inline Value rounded(double v, double steps_per_unit) {
    return Value(std::round(v * steps_per_unit) / steps_per_unit);
}
[[nodiscard]] inline Value maybe(const std::optional<double>& v, double steps_per_unit) {
    return v ? rounded(*v, steps_per_unit) : Value();
}
[[nodiscard]] inline Value texts(const std::vector<std::string>& list) {
    return Value::Array(list.begin(), list.end());
}

}  // namespace loamway

#endif
