// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_STOPS_H
#define LOAMWAY_PLAN_STOPS_H

// Where a route can be stopped on to lubricate, and where it is.

#include <optional>
#include <string>
#include <vector>

#include "loamway/costs/option_figures.h"
#include "loamway/search/stop_choice.h"
#include "loamway/search/stop_search.h"
#include "path.h"
#include "setting.h"

namespace loamway {

/// Everything a region and a user offer as places to stand, found once for all routes of a plan.
class StopPlaces {
public:
    StopPlaces(const Setting& setting, const VehicleRoads& roads);

    /// Places along a route where this combination can stand, in driving order; wait and why are empty.
    [[nodiscard]] std::vector<ChosenStop> along(const Route& route) const;
    /// The score a place has for this combination on this side of the road.
    [[nodiscard]] std::int32_t score(const ChosenStop& stop) const;
    /// The same places as the search takes them.
    [[nodiscard]] const StopOffers& offers() const { return m_offers; }

private:
    void find_fords();
    void add_beside(const Route& route, std::size_t piece, std::uint64_t at_dm,
                    std::vector<ChosenStop>& out) const;
    void add_mouths(const Route& route, std::size_t piece, std::uint64_t at_dm,
                    std::vector<ChosenStop>& out) const;

    const Setting& m_setting;
    const VehicleRoads& m_roads;
    std::uint32_t m_spur_dm;  // how deep a side way must be entered
    StopOffers m_offers;
    // Which record each offer stands for; from the record count on: a point the user named.
    std::vector<std::uint32_t> m_records;
};

/// Where a mixed move goes onto the low-bed and off it, on a route put together from what is driven before
/// and after. On the deck belts do not turn: the count since the last powder goes on.
struct HandOver {
    std::size_t piece = 0;    // of the route: the first one driven after the haul
    std::uint64_t at_dm = 0;  // driven before it
    NamedPoint load, unload;
    Duration takes;  // from coming to the loading place to driving on at the other
    HauledFigures hauled;
    [[nodiscard]] bool driven_before() const { return piece > 0; }
};
/// Places along a route as StopPlaces tells them; around a hand-over those of each driven part, none shortly
/// before the ramp, and the place where the machine is unloaded.
[[nodiscard]] std::vector<ChosenStop> places_along(const StopPlaces& places, const Route& route,
                                                   const HandOver* hand_over);
/// The pieces from one number up to another, the last not included.
[[nodiscard]] Route part_of(const Route& route, std::size_t from, std::size_t to);

struct StopPlan {
    std::vector<ChosenStop> stops;           // start stop first when there is one
    std::vector<std::string> answer_needed;  // no fit place within the interval
    std::vector<std::string> cautions;
    bool start_lube = false;
};

/// Start rule, fords, interval: the fewest and best places along this route; the hand-over is one of the
/// stops.
[[nodiscard]] StopPlan plan_stops(const Setting& setting, const StopPlaces& places, const Route& route,
                                  const HandOver* hand_over = nullptr);

/// The same with the stops that a search found together with the route.
[[nodiscard]] StopPlan plan_found_stops(const Setting& setting, const StopPlaces& places,
                                        const RouteWithStops& found);

/// How long a stop takes at that place and what to mind there; kind and place are set.
void fill_stop(const Setting& setting, ChosenStop& stop);

/// Whether the belts need powder before the machine is driven at all.
[[nodiscard]] bool powders_before_start(const PlanInputs& in);
/// Driven since the last lubrication when the machine leaves, after a lubrication before the start where one
/// is due.
[[nodiscard]] std::uint64_t since_at_start_dm(const PlanInputs& in);

}  // namespace loamway

#endif
