// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_JSON_FIGURES_H
#define LOAMWAY_SRC_PLAN_JSON_FIGURES_H

// Rounding of figures in plan JSON; nothing is rounded elsewhere.

#include <cmath>
#include <optional>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {

/// A power of ten divides exactly rounded, so the shortest text of the result has no more decimals.
inline Value rounded(std::optional<double> v, double steps_per_unit) {
    if (!v)
        return {};
    if (!std::isfinite(*v))
        throw Error(ErrorKind::internal, "a figure of the plan is not a finite number");
    const double steps = std::round(*v * steps_per_unit);
    return steps / steps_per_unit + 0.0;  // + 0.0: never "-0.0"
}
inline Value whole(std::optional<double> v) {
    if (!v)
        return {};
    if (!std::isfinite(*v) || std::abs(*v) > 9e15)
        throw Error(ErrorKind::internal, "a length or time of the plan is not a finite number");
    return static_cast<std::int64_t>(std::llround(*v));
}
inline Value tenths(std::optional<double> v) {
    return rounded(v, 10);
}
inline Value money(std::optional<double> v) {
    return rounded(v, 100);
}
/// The same for sentences: what they round to whole units is what the JSON holds, and so what sheets and the
/// page round from it.
inline double kept_money(double v) {
    return std::round(v * 100) / 100;
}
inline double kept_seconds(double v) {
    return std::round(v);
}
inline Value share(std::optional<double> v) {
    return rounded(v, 1e5);
}

}  // namespace loamway

#endif
