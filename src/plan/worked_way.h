// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_WORKED_WAY_H
#define LOAMWAY_PLAN_WORKED_WAY_H

// A driven route worked out: with its stops, in the manner the bars allow, priced; not yet put into words.

#include <string>
#include <vector>

#include "manner.h"

namespace loamway {

struct WorkedWay {
    RoutePlan chosen;
    Driven driven;
    std::array<Speed, surface_class_count> caps;  // by surface class
    double plain_cost = 0;                        // as fast as it may go, whatever the bars say
    bool plain_holds = false;                     // and whether the bars stand that
    double lower_bound = 0;                       // no manner costs less
    std::size_t tried = 0;                        // manners
    Value heat_record;
    std::vector<std::string> why_not;  // empty: it can be done
    [[nodiscard]] bool can_be_done() const { return why_not.empty(); }
    [[nodiscard]] double cost() const { return driven.cost.total().units(); }
};

[[nodiscard]] WorkedWay work_out(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                                 const PlanHeat& heat, RoutePlan chosen);

[[nodiscard]] int stops_on_the_way(const WorkedWay& w);

/// "at most 15 km/h on paved roads, 20 min longer at each stop"; empty for the plain manner.
[[nodiscard]] std::string manner_text(const Driven& d, const UnitWords& words);

}  // namespace loamway

#endif
