// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_MANNER_H
#define LOAMWAY_PLAN_MANNER_H

// How to drive a route so that the bars stay below their limit: speeds capped by surface in steps of 5 km/h,
// pauses of 0, 10, 20 or 30 minutes more at the stops that are there. The cheapest manner that holds wins. What
// acts is the upper edge of the heat band, as long as no reading has calibrated it.

#include <vector>

#include "heat.h"
#include "loamway/costs/costs.h"
#include "route_choice.h"

namespace loamway {

/// A route with stops, driven in one manner.
struct Driven {
    Manner manner;
    std::vector<ChosenStop> stops;  // what path.stops counts
    Path path;
    CostParts cost;
    Volume fuel;
    double wear_mm = 0, wear_share = 0;
    int sharp_turns_hard = 0;
    double upper_peak_c = 0;
    bool holds = false;  // the upper edge stays at or below the limit
};

class MannerSearch {
public:
    MannerSearch(const Setting& setting, const VehicleRoads& roads, const PlanHeat& heat, const RoutePlan& chosen);

    /// The cheapest manner that holds; where none does, the slowest one that was tried.
    [[nodiscard]] Driven choose();
    /// Everything tried, as the plan's heat_search shows it.
    [[nodiscard]] Value record() const;
    [[nodiscard]] Speed cap_on(SurfaceClass c, const Manner& manner) const;

private:
    [[nodiscard]] Driven drive(const Manner& manner) const;
    const Driven& attempt(const Manner& manner);
    void attempt_pause(Duration pause);
    /// Highest cap in steps of 5 km/h that holds, by bisection; nothing when the lowest does not.
    template <class WithCap>
    bool bisect(Speed top, WithCap&& with_cap);

    const Setting& m_setting;
    const VehicleRoads& m_roads;
    const PlanHeat& m_heat;
    const RoutePlan& m_chosen;
    std::vector<Driven> m_tried;
    std::size_t m_taken = 0;
};

}  // namespace loamway

#endif
