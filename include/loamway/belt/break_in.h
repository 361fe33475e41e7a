// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_BREAK_IN_H
#define LOAMWAY_BELT_BREAK_IN_H

// How a set of belts is made ready for the road: preconditioning before the first metre of it, what has to
// wait until then, and the first hundred hours with speed and road share that rise. Every line says what it
// rests on; nothing here has a published source. How far paved ground goes in one run and how long powder
// lasts come from the heat models (heat_model.h, guide_lug.h), uncalibrated. A pure function of its inputs.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/units.h"
#include "loamway/belt/heat_model.h"
#include "loamway/profile/machine.h"

namespace loamway {

enum class Basis { practice, assumption, model };
/// "common practice", "assumption", "estimate"
[[nodiscard]] std::string_view name_of(Basis b);

struct BreakInLine {
    std::string text;
    Basis basis = Basis::practice;
};

/// Lines that are done together, in their order.
struct BreakInPhase {
    std::string title;
    std::vector<BreakInLine> lines;
};

/// What belts of so many hours may be asked for on paved roads.
struct RoadStage {
    double from_h = 0.0;
    std::optional<double> to_h;        // none: from then on
    Speed paved_cap;                   // (A) until 100 h, then the machine's own
    std::optional<double> road_share;  // of the hours worked, at most (A)
    Length paved_run;                  // in one go from cold until the upper edge reaches the limit
    bool paved_run_is_longer = false;  // not reached within paved_run
    Temperature limit;                 // of the bar core, for these hours
    Length relube_interval;            // zero: at this speed powder does not help enough
    bool lube_at_start = false, check_stop = false;
};

struct BreakInPlan {
    bool road_waits = false;  // not on the road before the first phase is done
    std::vector<BreakInPhase> phases;
    std::vector<RoadStage> stages;  // from the belts' hours on; empty: nothing left to break in
    Conditions conditions;          // the heat figures hold for
};

/// Whether belts that were new count as run in: they worked for the slow quarter of an hour since they were
/// powdered (common practice), or so long on soil that it has powdered them (50 h, assumption).
[[nodiscard]] bool worked_in(Duration since_powdered, Duration on_soil);

/// The paved speed of belts of so many hours (assumption), of those not run in from their first hour; none
/// from 100 h on, or when nobody knows. Plans keep to it and the stages say it.
[[nodiscard]] std::optional<Speed> young_paved_cap(const BeltsNow& belts);

/// For belts as they are now. Belts not run in count from their hours, without them from zero.
[[nodiscard]] BreakInPlan break_in_plan(const Machine& machine, const WorkingState& state,
                                        const BeltsNow& belts, const Conditions& conditions);

}  // namespace loamway

#endif
