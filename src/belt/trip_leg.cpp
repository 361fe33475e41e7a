// SPDX-License-Identifier: Apache-2.0
#include "trip_leg.h"

#include <fmt/format.h>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr double longest_trip_h = 30 * 24;
const Speed slowest = Speed::from_kmh(0.1);  // a machine that cannot do that does not move

TripLeg plan_leg(const Machine& machine, const Conditions& conditions, const Motion& motion,
                 const TripSegment& s, std::size_t number) {
    TripLeg out;
    out.driven = s.speed;
    if (machine.top.mps() > 0.0 && machine.top < out.driven) {
        out.driven = machine.top;
        out.cap = SpeedCap::top_speed;
    }
    const double grade = s.grade_pct / 100.0;
    const Speed possible = motion.max_speed(s.surface, grade, out.driven);
    if (possible < out.driven) {
        out.driven = possible;
        out.cap = SpeedCap::power;
    }
    if (!(out.driven >= slowest))
        throw Error(ErrorKind::input,
                    fmt::format("segment {}: the machine of {:.6g} kW does not move at {:.3g} % of grade",
                                number, machine.engine.kw(), s.grade_pct),
                    "give a speed above zero, and the engine's power in the machine profile");
    out.driving = s.length / out.driven;
    out.way = {s.surface, out.driven, s.air.value_or(conditions.air), s.sun.value_or(conditions.sun), grade};
    out.still = out.way;
    out.still.speed = {};
    return out;
}

}  // namespace

std::vector<TripLeg> plan_legs(const Machine& machine, const Conditions& conditions, const Motion& motion,
                               const std::vector<TripSegment>& segments) {
    if (segments.empty())
        throw Error(ErrorKind::input, "the trip has no segment");
    std::vector<TripLeg> out;
    Duration total;
    for (const TripSegment& s : segments) {
        out.push_back(plan_leg(machine, conditions, motion, s, out.size() + 1));
        total += out.back().driving + s.stop;
    }
    if (total.hours() > longest_trip_h)
        throw Error(ErrorKind::limit, fmt::format("the trip takes {:.0f} hours", total.hours()),
                    "split it: 30 days at most");
    return out;
}

}  // namespace loamway
