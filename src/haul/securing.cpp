// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/securing.h"

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/haul/bridge_formula.h"

namespace loamway {
namespace {

// Tapes and scales do not read finer; keeps 10 ft given in metres from counting as 10 ft and a bit.
constexpr double slack_m = 1e-6;
constexpr double slack_kg = 1e-6;

constexpr Length feet(double v) {
    return Length::from_metres(v * 0.3048);
}

int tens_of_feet(Length l) {
    return std::max(0, static_cast<int>(std::ceil((l.metres() - slack_m) / feet(10).metres())));
}

bool heavy_machine(const Article& a) {
    return a.machine && a.mass.kg() >= from_pounds(10000).kg() - slack_kg;
}

int by_length(const Article& a) {
    if (a.blocked_forward)
        return std::max(1, tens_of_feet(a.length));
    if (a.length.metres() > feet(10).metres() + slack_m)
        return 2 + tens_of_feet(a.length - feet(10));
    const bool small =
        a.length.metres() <= feet(5).metres() + slack_m && a.mass.kg() <= from_pounds(1100).kg() + slack_kg;
    return small ? 1 : 2;
}

}  // namespace

int us_tiedowns(const Article& a) {
    return heavy_machine(a) ? std::max(4, by_length(a)) : by_length(a);
}

UsStrength us_strength(const Article& a, int count, Mass limit, TieDownRun run) {
    UsStrength s;
    s.aggregate = limit * (static_cast<double>(count) * (run == TieDownRun::direct ? 0.5 : 1.0));
    s.required = a.mass * 0.5;
    s.each_enough = !heavy_machine(a) || limit.kg() >= from_pounds(5000).kg() - slack_kg;
    return s;
}

int us_tiedowns_needed(const Article& a, Mass limit, TieDownRun run) {
    if (limit <= Mass())
        throw Error(ErrorKind::internal, "a tie-down without a working load limit");
    const double each = limit.kg() * (run == TieDownRun::direct ? 0.5 : 1.0);
    return std::max(us_tiedowns(a), static_cast<int>(std::ceil(a.mass.kg() * 0.5 / each - 1e-9)));
}

double acceleration_of(Push push) {
    return push == Push::forward ? 0.8 : 0.5;
}

Force direct_lashing_force(Mass mass, Push push, const DirectLashing& l) {
    if (l.chains < 1)
        throw Error(ErrorKind::internal, "a lashing without chains");
    const double held = l.friction * l.friction_share;
    const double arm =
        std::cos(l.rise.radians()) * std::cos(l.aside.radians()) + held * std::sin(l.rise.radians());
    return weight_of(mass) * (std::max(0.0, acceleration_of(push) - held) / (l.chains * arm));
}

}  // namespace loamway
