// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_STOPS_H
#define LOAMWAY_PLAN_STOPS_H

// Where a route can be stopped on to lubricate, and where it is.

#include <optional>
#include <string>
#include <vector>

#include "loamway/search/stop_choice.h"
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

private:
    struct Beside {  // a place beside an edge
        std::uint32_t edge;
        std::uint32_t offset_dm;
        std::uint32_t record;  // index of a record, or of a user stop + record count
    };
    struct Mouth {  // a side way that can be entered at a node
        std::uint32_t node;
        std::uint32_t arc;  // from the node into the side way
        std::uint32_t record;
    };
    void add_beside(const Route& route, std::size_t piece, std::uint64_t at_dm, std::vector<ChosenStop>& out) const;
    void add_mouths(const Route& route, std::size_t piece, std::uint64_t at_dm, std::vector<ChosenStop>& out) const;

    const Setting& m_setting;
    const VehicleRoads& m_roads;
    std::uint32_t m_spur_dm;        // how deep a side way must be entered
    std::vector<Beside> m_beside;   // by edge, offset
    std::vector<Mouth> m_mouths;    // by node
};

struct StopPlan {
    std::vector<ChosenStop> stops;          // start stop first when there is one
    std::vector<std::string> answer_needed; // no fit place within the interval
    std::vector<std::string> cautions;
    bool start_lube = false;
};

/// Start rule, fords, interval; `places` along this route.
[[nodiscard]] StopPlan plan_stops(const Setting& setting, const StopPlaces& places, const Route& route);

}  // namespace loamway

#endif
