// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_MIXED_PLANNER_H
#define LOAMWAY_PLAN_MIXED_PLANNER_H

// A move partly driven and partly hauled: the pairs of loading places, cheapest first, are worked out in full
// (ways with their turns, stops, heat, the low-bed's bill) until no other can cost less.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "drive_planner.h"
#include "mixed_search.h"

namespace loamway {

/// A mixed move worked out. Its driven way is put together from both legs.
struct MixedWay {
    std::optional<LoadingPlace> load, unload;  // nothing: where the move begins, where it ends
    WorkedWay driven;
    HauledWay hauled;
    Duration waits;  // at the loading place for the low-bed, which can be there no earlier
};

struct MixedMove {
    std::optional<MixedWay> way;  // the cheapest that can be done, else the first that was worked out
    std::string why_not;          // without a way
    bool exact = true;            // no other pair can cost less, as far as the search's weights tell
    std::size_t places = 0;       // looked at
};

class MixedPlanner {
public:
    /// Keeps references to all of them.
    MixedPlanner(const Setting& setting, DrivePlanner& drive, Hauling& hauling);

    /// `cap`: only what costs less is of use.
    [[nodiscard]] MixedMove find(double cap);

private:
    [[nodiscard]] MixedMove find_below(MixedSearch& search, double cap, bool more_beyond);
    [[nodiscard]] MixedQuestion question(double cap) const;
    [[nodiscard]] std::optional<MixedWay> work_out_pair(const MixedPair& pair);
    [[nodiscard]] const std::optional<Route>& driven_to(std::uint32_t place);
    [[nodiscard]] const std::optional<Route>& driven_from(std::uint32_t place);
    [[nodiscard]] std::optional<Route> drive(const RoadPoint& from, const RoadPoint& to);
    [[nodiscard]] RoutePlan put_together(const std::optional<Route>& before,
                                         const std::optional<Route>& after, HandOver hand_over) const;
    [[nodiscard]] Duration time_at_hand_over(const HauledWay& hauled, bool drives_on) const;

    const Setting& m_setting;
    DrivePlanner& m_drive;
    Hauling& m_hauling;
    RouteFinder m_ways;
    const std::vector<std::uint32_t>& m_weights;
    TurnPrices m_turns;
    std::vector<LoadingPlace> m_places;
    RoadPoint m_from, m_to;
    HaulEnds m_haul;
    std::map<std::uint32_t, std::optional<Route>> m_to_place, m_from_place;
};

}  // namespace loamway

#endif
