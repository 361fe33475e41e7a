// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/break_even.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr double most_points = 1e6;

std::size_t points_of(const Sweep& s) {
    const double count = std::floor((s.to - s.from) / s.step + 1e-9) + 1.0;
    if (!(s.step.metres() > 0) || !(count >= 2 && count <= most_points))
        throw Error(ErrorKind::input, "a sweep over lengths needs two to a million steps",
                    "choose a wider stretch or another step");
    return static_cast<std::size_t>(count);
}

Length point(const Sweep& s, std::size_t i) {
    return s.from + s.step * static_cast<double>(i);
}

}  // namespace

std::optional<Length> break_even(const CostLine& drive, const CostLine& haul) {
    if (drive.per_km <= haul.per_km)
        return std::nullopt;
    const double km = (haul.fixed - drive.fixed) / (drive.per_km - haul.per_km);
    return Length::from_km(std::max(0.0, km));
}

CostLine fit_line(const CostOfLength& cost, const Sweep& sweep) {
    const std::size_t points = points_of(sweep);
    std::vector<double> x(points), y(points);
    double mean_x = 0, mean_y = 0;
    for (std::size_t i = 0; i < points; ++i) {
        x[i] = point(sweep, i).km();
        y[i] = cost(point(sweep, i)).units();
        mean_x += x[i] / static_cast<double>(points);
        mean_y += y[i] / static_cast<double>(points);
    }
    double xy = 0, xx = 0;
    for (std::size_t i = 0; i < points; ++i) {
        xy += (x[i] - mean_x) * (y[i] - mean_y);
        xx += (x[i] - mean_x) * (x[i] - mean_x);
    }
    const double slope = xy / xx;
    return {Money::from_units(mean_y - slope * mean_x), Money::from_units(slope)};
}

BreakEven sweep_break_even(const CostOfLength& drive, const CostOfLength& haul, const Sweep& sweep) {
    const std::size_t points = points_of(sweep);
    BreakEven out;
    bool haul_before = false;
    for (std::size_t i = 0; i < points; ++i) {
        const Length at = point(sweep, i);
        const bool haul_now = haul(at) < drive(at);
        if (i > 0 && haul_now != haul_before)
            out.crossings.push_back(at);
        if (haul_now && !out.haul_cheaper_from)
            out.haul_cheaper_from = at;
        if (haul_now && (i == 0 || !haul_before))
            out.drive_cheaper_below = at;
        haul_before = haul_now;
    }
    if (!haul_before)
        out.drive_cheaper_below.reset();
    return out;
}

}  // namespace loamway
