// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_HAUL_BRIDGE_FORMULA_H
#define LOAMWAY_HAUL_BRIDGE_FORMULA_H

// The United States' bridge formula over every group of consecutive axles:
//   W = 500 [L N / (N - 1) + 12 N + 36]
// L feet between the outer axles "to the nearest foot", N axles, W "to the nearest 500 pounds" (wording of
// S.D. Codified Laws 32-22-16.1 and Fla. Stat. 316.535, seen in extract; federal 23 CFR 658.17). Which way
// the middle is rounded is not uniform: a secondary text on the federal pamphlet says down, the table of
// 67 Pa. Code 185.3 rounds up. Whole numbers throughout, so that no rounding of the machine decides.
// Pure functions. They compare; the local code decides.

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "loamway/base/units.h"

namespace loamway {

/// What "to the nearest" does with an exact middle.
enum class Tie { down, up };

/// Whole pounds the formula gives for `axles` >= 2 over whole `feet` >= 0.
[[nodiscard]] std::int64_t bridge_formula_lb(int axles, int feet, Tie tie = Tie::down);

struct AxleAt {
    Length at;  // along the vehicle, front to rear
    Mass load;
};
struct AxleGroupLimits {
    std::int64_t single_lb =
        20000;  // axles up to 40 in apart count as one (FHWA Q&A on 658.17, seen in extract)
    std::int64_t tandem_lb = 34000;  // more than 40 up to 96 in
    /// Two consecutive tandems may carry the tandem load each from 36 ft on (23 USC 127, quoted).
    bool tandem_exception = true;
    Tie tie = Tie::down;
};

/// One group of consecutive axles beside what it may carry.
struct AxleGroupFinding {
    std::size_t first = 0, last = 0;  // axles counted from 0 at the front
    Length span;
    Mass load, limit;
    [[nodiscard]] bool over() const { return load > limit; }
    [[nodiscard]] Mass margin() const { return limit - load; }
};
/// Every group of one and more consecutive axles, by first and then last axle. Axles stand in order.
/// Between 8 and 9 ft the formula is taken at 8 (the row "more than 8 feet", from memory). Loads are compared
/// in hundredths of a pound, spans in tenths of a millimetre.
[[nodiscard]] std::vector<AxleGroupFinding> check_axle_groups(std::span<const AxleAt> axles,
                                                              const AxleGroupLimits& limits = {});
/// The group with the least margin; of equal ones the first. None without axles.
[[nodiscard]] std::optional<AxleGroupFinding> tightest(std::span<const AxleGroupFinding> groups);

constexpr double kg_per_lb = 0.45359237;
[[nodiscard]] constexpr Mass from_pounds(double lb) {
    return Mass::from_kg(lb * kg_per_lb);
}

}  // namespace loamway

#endif
