// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BUILD_ROAD_FACTS_H
#define LOAMWAY_SRC_BUILD_ROAD_FACTS_H

// What the search for stop places wants to know of a road's tags; worked out once for each list of tags.

#include <optional>
#include <string_view>
#include <vector>

#include "assembly.h"
#include "loamway/tags/vehicle.h"

namespace loamway {

struct RoadFacts {
    bool side_way = false;  // track or service road
    bool track = false;
    bool fast = false;       // motorway, trunk, motorroad: no stopping
    bool structure = false;  // bridge, tunnel, covered
    bool roundabout = false;
    bool wide = false;        // a shoulder, or 7 m and more
    bool steep = false;       // more than 6 % by its tag
    bool cycle_lane = false;  // marked on the carriageway
    bool driveway = false;    // somebody's own
    bool busy = false;        // a side way that others need free: parking aisle, alley, emergency access
    bool ask = false;         // somebody's yes is needed to drive on it
    Passage forward = Passage::allow;  // of an agricultural machine without a size
    Passage backward = Passage::allow;

    [[nodiscard]] bool open() const { return forward != Passage::deny || backward != Passage::deny; }
};

class RoadFactsTable {
public:
    explicit RoadFactsTable(const Assembly& a);
    /// By value: the table grows while callers hold what they asked for.
    [[nodiscard]] RoadFacts of_edge(std::size_t edge);

private:
    const Assembly& m_a;
    std::vector<std::uint32_t> m_index;  // of each list of tags, into m_facts, or no_index
    std::vector<RoadFacts> m_facts;
};

/// Nobody stands on steeper ground to roll on a belt (assumption).
constexpr double steepest_pct = 6.0;

/// incline=* as an amount in percent; nothing for "up", "down" and what cannot be read.
[[nodiscard]] std::optional<double> read_incline_pct(std::string_view raw);

}  // namespace loamway

#endif
