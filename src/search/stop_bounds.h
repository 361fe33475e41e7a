// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_STOP_BOUNDS_H
#define LOAMWAY_SEARCH_STOP_BOUNDS_H

// No less than this is still to come: what guides the search for route and stops. Stops and priced turns are
// left out; turning round where there is room is not.

#include <optional>
#include <vector>

#include "places_on.h"
#include "route_ends.h"
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
    [[nodiscard]] std::optional<StillToCome> after(std::uint32_t state) const;
    /// From a position on a state's arc, which the move may end on.
    [[nodiscard]] std::optional<StillToCome> from(std::uint32_t state, std::uint32_t at_dm) const;

private:
    using Weights = std::span<const std::uint32_t>;
    [[nodiscard]] std::uint64_t from(std::uint32_t state, std::uint32_t at_dm, Weights weights,
                                     const std::vector<std::uint64_t>& ahead) const;
    [[nodiscard]] std::uint64_t along(std::uint32_t state, std::uint32_t at_dm, Weights weights,
                                      const std::vector<std::uint64_t>& ahead) const;

    const RoadGraph& m_graph;
    const States& m_states;
    const PlacesOn& m_places;
    const RouteEnds& m_ends;
    std::vector<std::uint32_t> m_lengths;
    Weights m_primary;
    std::vector<std::uint64_t> m_length_ahead, m_primary_ahead;  // by state
};

}  // namespace loamway

#endif
