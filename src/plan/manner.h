// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_MANNER_H
#define LOAMWAY_PLAN_MANNER_H

// How to drive a route so that the bars stay below their limit: speeds capped by surface in steps of 5 km/h,
// pauses of 0, 10, 20 or 30 minutes more at the stops that are there, and, where it helps, one more stop of
// 10, 20 or 30 minutes at a place that is fit to stop. The cheapest manner that holds wins. What acts is the
// upper edge of the heat band, as long as no reading has calibrated it.

#include <optional>
#include <string>
#include <vector>

#include "heat.h"
#include "loamway/costs/costs.h"
#include "route_choice.h"

namespace loamway {

/// How an option is driven beyond its route and stops.
struct Manner {
    std::optional<Speed> hard_cap, gravel_cap;
    Duration pause;                      // longer at each re-lube stop
    std::optional<std::size_t> cooling;  // one more stop, by its number among the places of the search
    Duration cooling_time;
    [[nodiscard]] bool plain() const { return !hard_cap && pause.seconds() == 0 && !cooling; }
};

/// A route with stops, driven in one manner.
struct Driven {
    Manner manner;
    std::vector<ChosenStop> stops;  // what path.stops counts
    Path path;
    DriveFigures figures;  // what the cost is worked out from
    CostParts cost;
    Volume fuel;
    double wear_mm = 0, wear_share = 0;
    double wear_paved_mm = 0;  // of it, on paved ground and in turns
    int sharp_turns_hard = 0;
    double acted_on_c = 0;        // what is acted on: PlanHeat::acted_on_c
    bool holds = false;           // and it stays at or below the limit
    std::string without_cooling;  // of one with a stop to cool: why that stop, in words; else empty
    [[nodiscard]] bool better_than(const Driven& other) const;
};

/// A second driven leg is prepared once more; washing, permits and delays to be expected come once a move.
[[nodiscard]] DriveFigures second_preparation(const Setting& setting);

class MannerSearch {
public:
    /// Keeps references to all of them.
    MannerSearch(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                 const PlanHeat& heat, const RoutePlan& chosen);

    /// The cheapest manner that holds; where none does, the coolest one that was tried.
    [[nodiscard]] Driven choose();
    /// Everything tried, as the plan's heat_search shows it.
    [[nodiscard]] Value record() const;
    /// No manner costs less: what it costs when heat is no matter, or less where a slower one is cheaper
    /// anyway.
    [[nodiscard]] double lower_bound() const;
    /// As fast as it may go, without pauses.
    [[nodiscard]] const Driven& plain() const { return m_tried.front(); }
    [[nodiscard]] std::size_t tried() const { return m_tried.size(); }
    [[nodiscard]] Speed cap_on(SurfaceClass c, const Manner& manner) const;

private:
    [[nodiscard]] Driven drive(const Manner& manner) const;
    void price(Driven& d) const;
    [[nodiscard]] std::vector<ChosenStop> stops_of(const Manner& manner) const;
    [[nodiscard]] bool keeps_interval(const Path& path) const;
    const Driven& attempt(const Manner& manner);
    void attempt_caps(const Manner& plain);
    /// Highest cap in steps of 5 km/h that holds, by bisection; nothing when the lowest does not.
    template <class WithCap>
    bool bisect(Speed top, WithCap&& with_cap);
    void find_cooling_places();
    [[nodiscard]] Manner one_step_faster(const Manner& manner) const;
    [[nodiscard]] std::optional<std::size_t> best_cooling_place();
    void attempt_cooling();
    void take_best();
    [[nodiscard]] std::string without_cooling() const;

    const Setting& m_setting;
    const VehicleRoads& m_roads;
    const StopPlaces& m_places;
    const PlanHeat& m_heat;
    const RoutePlan& m_chosen;
    std::vector<ChosenStop> m_cooling_places;
    std::vector<Driven> m_tried;
    std::size_t m_taken = 0;
};

}  // namespace loamway

#endif
