// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/bridge_formula.h"

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr std::int64_t foot = 3048;          // tenths of a millimetre
constexpr std::int64_t single_span = 10160;  // 40 in
constexpr std::int64_t tandem_span = 24384;  // 96 in
constexpr std::int64_t exception_span = 36 * foot;

std::int64_t tenths_of_mm(Length l) {
    return std::llround(l.metres() * 10000.0);
}
std::int64_t hundredths_of_lb(Mass m) {
    return std::llround(m.kg() / kg_per_lb * 100.0);
}

/// numerator / denominator to the nearest whole number, both positive.
std::int64_t nearest(std::int64_t numerator, std::int64_t denominator, Tie tie) {
    const std::int64_t whole = numerator / denominator;
    const std::int64_t twice_rest = 2 * (numerator % denominator);
    const bool up = twice_rest > denominator || (twice_rest == denominator && tie == Tie::up);
    return up ? whole + 1 : whole;
}

int feet_of(std::int64_t span, Tie tie) {
    if (span < 9 * foot)
        return 8;
    return static_cast<int>(nearest(span, foot, tie));
}

bool is_tandem(std::int64_t span) {
    return span > single_span && span <= tandem_span;
}

std::int64_t group_limit_lb(std::span<const std::int64_t> at, std::size_t first, std::size_t last,
                            const AxleGroupLimits& limits) {
    const std::int64_t span = at[last] - at[first];
    if (span <= single_span)
        return limits.single_lb;
    if (is_tandem(span))
        return limits.tandem_lb;
    const int axles = static_cast<int>(last - first) + 1;
    std::int64_t lb = bridge_formula_lb(axles, feet_of(span, limits.tie), limits.tie);
    const bool two_tandems =
        axles == 4 && is_tandem(at[first + 1] - at[first]) && is_tandem(at[last] - at[last - 1]);
    if (limits.tandem_exception && two_tandems && span >= exception_span)
        lb = std::max(lb, 2 * limits.tandem_lb);
    return lb;
}

}  // namespace

std::int64_t bridge_formula_lb(int axles, int feet, Tie tie) {
    if (axles < 2 || feet < 0)
        throw Error(ErrorKind::internal, "the bridge formula needs two axles and a length");
    const std::int64_t n = axles, l = feet;
    return 500 * nearest(l * n + (12 * n + 36) * (n - 1), n - 1, tie);
}

std::vector<AxleGroupFinding> check_axle_groups(std::span<const AxleAt> axles,
                                                const AxleGroupLimits& limits) {
    std::vector<std::int64_t> at;
    for (const AxleAt& a : axles)
        at.push_back(tenths_of_mm(a.at));
    if (!std::is_sorted(at.begin(), at.end()))
        throw Error(ErrorKind::internal, "axles must be given from the front to the rear");
    std::vector<AxleGroupFinding> out;
    for (std::size_t first = 0; first < at.size(); ++first) {
        std::int64_t load = 0;
        for (std::size_t last = first; last < at.size(); ++last) {
            load += hundredths_of_lb(axles[last].load);
            const std::int64_t lb = group_limit_lb(at, first, last, limits);
            out.push_back({first, last, Length::from_mm(static_cast<double>(at[last] - at[first]) / 10.0),
                           from_pounds(static_cast<double>(load) / 100.0),
                           from_pounds(static_cast<double>(lb))});
        }
    }
    return out;
}

std::optional<AxleGroupFinding> tightest(std::span<const AxleGroupFinding> groups) {
    const auto found = std::min_element(groups.begin(), groups.end(),
                                        [](const auto& a, const auto& b) { return a.margin() < b.margin(); });
    return found == groups.end() ? std::nullopt : std::optional(*found);
}

}  // namespace loamway
