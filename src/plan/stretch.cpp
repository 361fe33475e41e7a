// SPDX-License-Identifier: Apache-2.0
#include "stretch.h"

#include <algorithm>

#include "loamway/belt/road_surface.h"

namespace loamway {

namespace {

constexpr double steepest = 1.0 / 3.0;
// A machine that the power model would stop still crawls: whoever drives there shifts down.
const Speed crawl = Speed::from_kmh(3);

MotionParameters motion_parameters(const Rates& rates) {
    MotionParameters p;
    p.engine_speed_reduction_pct = rates.speed_reduction_pct;
    return p;
}

}  // namespace

Slope slope_of(const Climb& climb, Length length) {
    const double up = climb.ascent.metres(), down = climb.descent.metres();
    if (!(up + down > 0.0) || !(length.metres() > 0.0))
        return {};
    return {std::min((up + down) / length.metres(), steepest), up / (up + down)};
}

RoadMotion::RoadMotion(const Machine& machine, const WorkingState& state, const Rates& rates)
    : m_motion(machine, state, motion_parameters(rates)) {}

Stretch RoadMotion::drive(SurfaceClass surface, Length length, Slope slope, Speed allowed) const {
    Stretch s;
    s.length = length;
    s.surface = surface;
    const RoadSurface ground = road_surface_of(surface);
    add(s, ground, length * slope.climbing, slope.grade, allowed);
    add(s, ground, length * (1.0 - slope.climbing), -slope.grade, allowed);
    return s;
}

void RoadMotion::add(Stretch& to, RoadSurface ground, Length length, double grade, Speed allowed) const {
    if (!(length.metres() > 0.0))
        return;
    const Speed v = std::max(m_motion.max_speed(ground, grade, allowed), std::min(crawl, allowed));
    const Duration takes = length / v;
    const FuelRate rate = m_motion.fuel(ground, v, grade);
    to.takes += takes;
    to.fuel += Volume::from_litres(rate.litres_per_hour * takes.hours());
    to.fuel_upper += Volume::from_litres(rate.upper_litres_per_hour * takes.hours());
}

}  // namespace loamway
