// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_STRETCH_H
#define LOAMWAY_PLAN_STRETCH_H

// Time and fuel of a piece of road from motion resistance, power and hills. The searches' weights, the path
// and the printed sums all take them from here, so that a route is chosen by what it is then said to cost.
//
// Of a piece with ascent A and descent D a share A / (A + D) of its length climbs by (A + D) / length, the
// rest falls as steeply: both sums are kept, how they follow each other is not. The climb is driven at most
// as fast as nine tenths of the rated power allow; downhill the allowed speed is kept by braking, and the
// engine gives what its auxiliaries ask for. Immutable: share between threads.

#include "loamway/belt/motion.h"
#include "loamway/graph/road_graph.h"
#include "loamway/profile/rates.h"

namespace loamway {

/// How a piece of road goes up and down.
struct Slope {
    double grade = 0.0;     // rise over run of the climbing and of the falling part
    double climbing = 0.0;  // share of the length that climbs
    /// Rise over run from end to end.
    [[nodiscard]] double net() const { return grade * (2.0 * climbing - 1.0); }
};
/// Grades beyond a third come from heights that do not belong to the road, and are taken as a third.
[[nodiscard]] Slope slope_of(const Climb& climb, Length length);

/// A piece of road as it is driven.
struct Stretch {
    Length length;
    SurfaceClass surface = SurfaceClass::hard;
    Duration takes;
    Volume fuel, fuel_upper;  // the estimate and the upper line of the motion model
    [[nodiscard]] Speed speed() const {
        return takes.seconds() > 0 ? Speed::from_mps(length.metres() / takes.seconds()) : Speed();
    }
};

class RoadMotion {
public:
    RoadMotion(const Machine& machine, const WorkingState& state, const Rates& rates);

    /// Driven no faster than `allowed` where the engine can do that.
    [[nodiscard]] Stretch drive(SurfaceClass surface, Length length, Slope slope, Speed allowed) const;
    [[nodiscard]] const Motion& motion() const { return m_motion; }

private:
    void add(Stretch& to, RoadSurface ground, Length length, double grade, Speed allowed) const;
    Motion m_motion;
};

}  // namespace loamway

#endif
