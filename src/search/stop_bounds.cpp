// SPDX-License-Identifier: Apache-2.0
#include "stop_bounds.h"

#include <algorithm>

namespace loamway {

StopBounds::StopBounds(const VehicleRoads& roads, const States& states, const PlacesOn& places,
                       const RouteEnds& ends, const StopSearchQuestion& q)
    : m_graph(roads.graph()),
      m_states(states),
      m_places(places),
      m_ends(ends),
      m_lengths(m_graph.arc_count()),
      m_primary(q.primary) {
    for (std::size_t a = 0; a < m_lengths.size(); ++a)
        m_lengths[a] = m_graph.arc(ArcId{a}).length_dm;
    const auto sweep = [&](Weights weights, const SweepLimits& limits) {
        return sweep_back(roads, ends, weights, limits, {}, &places);
    };
    // The narrower of the two goes first and bounds the other.
    if (q.cap_dm != no_cap) {
        m_length_ahead = sweep(m_lengths, {.length_dm = q.cap_dm});
        m_primary_ahead = sweep(m_primary, {.primary = q.known_primary, .within = &m_length_ahead});
    } else {
        m_primary_ahead = sweep(m_primary, {.primary = q.known_primary});
        m_length_ahead = sweep(m_lengths, {.within = &m_primary_ahead});
    }
}

std::optional<StillToCome> StopBounds::after(std::uint32_t state) const {
    if (m_primary_ahead[state] == unreached_weight || m_length_ahead[state] == unreached_weight)
        return std::nullopt;
    return StillToCome{primary_of(m_primary_ahead[state]), length_of(m_length_ahead[state])};
}

std::optional<StillToCome> StopBounds::from(std::uint32_t state, std::uint32_t at_dm) const {
    const std::uint64_t primary = from(state, at_dm, m_primary, m_primary_ahead);
    const std::uint64_t length = from(state, at_dm, m_lengths, m_length_ahead);
    if (primary == unreached_weight || length == unreached_weight)
        return std::nullopt;
    return StillToCome{primary_of(primary), length_of(length)};
}

std::uint64_t StopBounds::from(std::uint32_t state, std::uint32_t at_dm, Weights weights,
                               const std::vector<std::uint64_t>& ahead) const {
    const ArcId a = m_states.arc(state);
    std::uint64_t best = along(state, at_dm, weights, ahead);
    if (const auto back = m_states.turn_round(state))
        m_places.for_each_beside(a, [&](std::uint32_t, std::uint32_t place_dm, bool turns) {
            if (!turns || place_dm < at_dm)
                return;
            const std::uint64_t rest = along(*back, m_graph.arc(a).length_dm - place_dm, weights, ahead);
            if (rest != unreached_weight)
                best = std::min(best, add_checked(weight_of(m_graph, weights, {a, at_dm, place_dm}), rest));
        });
    return best;
}

// To the end of the arc and beyond, or to where the move ends on it.
std::uint64_t StopBounds::along(std::uint32_t state, std::uint32_t at_dm, Weights weights,
                                const std::vector<std::uint64_t>& ahead) const {
    const ArcId a = m_states.arc(state);
    std::uint64_t best = unreached_weight;
    if (ahead[state] != unreached_weight)
        best = add_checked(ahead[state], weight_of(m_graph, weights, {a, at_dm, m_graph.arc(a).length_dm}));
    for (const RoutePiece& t : m_ends.targets)
        if (t.arc == a && t.to_dm >= at_dm)
            best = std::min(best, weight_of(m_graph, weights, {a, at_dm, t.to_dm}));
    return best;
}

}  // namespace loamway
