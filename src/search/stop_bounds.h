// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_STOP_BOUNDS_H
#define LOAMWAY_SEARCH_STOP_BOUNDS_H

// No less than this is still to come: what guides the search for route and stops. Stops and priced turns are
// left out; turning round where there is room is not. Swept backwards over the whole map beforehand, or
// looked up in metrics of a hierarchy when asked for, without turn rules then.

#include <optional>
#include <vector>

#include "loamway/search/distance_to.h"
#include "places_on.h"
#include "route_ends.h"
#include "spread_ends.h"
#include "states.h"

namespace loamway {

struct StillToCome {
    std::uint64_t primary = 0;
    std::uint64_t length_dm = 0;
};

class StopBounds {
public:
    StopBounds(const VehicleRoads& roads, const States& states, const PlacesOn& places, const RouteEnds& ends,
               const StopSearchQuestion& q);

    /// After a state; nothing where no way within the question's limits leads on.
    [[nodiscard]] std::optional<StillToCome> after(std::uint32_t state);
    /// From a position on a state's arc, which the move may end on.
    [[nodiscard]] std::optional<StillToCome> from(std::uint32_t state, std::uint32_t at_dm);

private:
    /// Packed weights of one kind still to come after each state.
    class Ahead {
    public:
        std::span<const std::uint32_t> weights;  // by arc
        FarArray<std::uint64_t> swept;           // by state, unless looked up

        void look_up(const VehicleRoads& roads, const States& states, const RouteEnds& ends,
                     const HierarchyMetric& metric);
        [[nodiscard]] std::uint64_t after(std::uint32_t state);

    private:
        const VehicleRoads* m_roads = nullptr;
        const States* m_states = nullptr;
        std::optional<DistanceTo> m_distance_to;
        EndLabels m_ends;  // nodes at which open road is left for the end
    };
    [[nodiscard]] std::uint64_t from(std::uint32_t state, std::uint32_t at_dm, Ahead& ahead) const;
    [[nodiscard]] std::uint64_t along(std::uint32_t state, std::uint32_t at_dm, Ahead& ahead) const;

    const RoadGraph& m_graph;
    const States& m_states;
    const PlacesOn& m_places;
    const RouteEnds& m_ends;
    std::vector<std::uint32_t> m_lengths;
    Ahead m_primary, m_length;
};

}  // namespace loamway

#endif
