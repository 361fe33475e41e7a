// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_LOW_BED_RUNS_H
#define LOAMWAY_PLAN_LOW_BED_RUNS_H

// Empty runs of a low-bed between many points at once: one sweep over the map a point.

#include <span>
#include <vector>

#include "loamway/plan/inputs.h"

namespace loamway {

struct LowBedRun {
    bool there = false;
    Length length;
    Duration time;
    Money cost;  // by the hour and the km, without minimum and billing steps
};

/// By from and to, row by row. Points away from every road the empty low-bed may use have no runs. Turn
/// restrictions are not looked at: a run may be some hundred metres longer than it is counted here.
[[nodiscard]] std::vector<LowBedRun> low_bed_runs(const PlanInputs& inputs, std::span<const GeoPoint> points);

}  // namespace loamway

#endif
