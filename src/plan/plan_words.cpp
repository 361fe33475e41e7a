// SPDX-License-Identifier: Apache-2.0
#include "plan_words.h"

#include <fmt/format.h>

namespace loamway {

std::string PlanWords::number(double metres) const {
    const double v = long_units(metres);
    return v < 10 ? fmt::format("{:.1f}", v) : fmt::format("{:.0f}", v);
}

std::string PlanWords::length(double metres) const {
    return fmt::format("{} {}", number(metres), long_unit());
}

}  // namespace loamway
