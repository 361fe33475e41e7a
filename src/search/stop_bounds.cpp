// SPDX-License-Identifier: Apache-2.0
#include "stop_bounds.h"

#include <algorithm>

#include "beeline.h"

namespace loamway {

void StopBounds::Ahead::look_up(const VehicleRoads& roads, const States& states, const RouteEnds& ends,
                                const HierarchyMetric& metric) {
    m_roads = &roads;
    m_states = &states;
    spread_ends(roads, ends, weights, true, m_ends);
    std::vector<WeightedNode> targets;
    for (const auto& [node, label] : m_ends)
        targets.push_back({NodeId{node}, label.weight});
    m_distance_to.emplace(metric.hierarchy());
    m_distance_to->set(metric, targets);
}

// Looked up as FastRoute guides itself: on private ground at the end only its own way counts, and before open
// road nothing is known.
std::uint64_t StopBounds::Ahead::after(std::uint32_t state) {
    if (!m_distance_to)
        return swept[state];
    const ArcId a = m_states->arc(state);
    const NodeId at = m_states->graph().head(a);
    if (m_states->at_end_side(state)) {
        const auto label = m_ends.find(at.value());
        return label == m_ends.end() ? infinite_weight : label->second.weight;
    }
    return m_roads->ends_only(a) ? 0 : (*m_distance_to)(at);
}

StopBounds::StopBounds(const VehicleRoads& roads, const States& states, const PlacesOn& places,
                       const RouteEnds& ends, const StopSearchQuestion& q)
    : m_graph(roads.graph()),
      m_states(states),
      m_places(places),
      m_ends(ends),
      m_lengths(m_graph.arc_count()) {
    for (std::size_t a = 0; a < m_lengths.size(); ++a)
        m_lengths[a] = m_graph.arc(ArcId{a}).length_dm;
    m_primary.weights = q.primary;
    m_length.weights = m_lengths;
    if (q.metric != nullptr && q.length_metric != nullptr) {
        m_primary.look_up(roads, states, ends, *q.metric);
        m_length.look_up(roads, states, ends, *q.length_metric);
        return;
    }
    const auto sweep = [&](Ahead& ahead, const SweepLimits& limits) {
        ahead.swept = sweep_back(roads, ends, ahead.weights, limits, {}, &places);
    };
    // The narrower of the two goes first and bounds the other.
    if (q.cap_dm != no_cap && !ends.starts.empty()) {
        const Beeline beeline(m_graph, ends);
        sweep(m_length, {.length_dm = q.cap_dm, .start = &beeline});
        sweep(m_primary, {.primary = q.known_primary, .within = &m_length.swept});
    } else {
        sweep(m_primary, {.primary = q.known_primary});
        sweep(m_length, {.within = &m_primary.swept});
    }
}

std::optional<StillToCome> StopBounds::after(std::uint32_t state) {
    const std::uint64_t primary = m_primary.after(state), length = m_length.after(state);
    if (primary == unreached_weight || length == unreached_weight)
        return std::nullopt;
    return StillToCome{primary_of(primary), length_of(length)};
}

std::optional<StillToCome> StopBounds::from(std::uint32_t state, std::uint32_t at_dm) {
    const std::uint64_t primary = from(state, at_dm, m_primary), length = from(state, at_dm, m_length);
    if (primary == unreached_weight || length == unreached_weight)
        return std::nullopt;
    return StillToCome{primary_of(primary), length_of(length)};
}

std::uint64_t StopBounds::from(std::uint32_t state, std::uint32_t at_dm, Ahead& ahead) const {
    const ArcId a = m_states.arc(state);
    std::uint64_t best = along(state, at_dm, ahead);
    if (const auto back = m_states.turn_round(state))
        m_places.for_each_beside(a, [&](std::uint32_t, std::uint32_t place_dm, bool turns) {
            if (!turns || place_dm < at_dm)
                return;
            const std::uint64_t rest = along(*back, m_graph.arc(a).length_dm - place_dm, ahead);
            if (rest != unreached_weight)
                best = std::min(best,
                                add_checked(weight_of(m_graph, ahead.weights, {a, at_dm, place_dm}), rest));
        });
    return best;
}

// To the end of the arc and beyond, or to where the move ends on it.
std::uint64_t StopBounds::along(std::uint32_t state, std::uint32_t at_dm, Ahead& ahead) const {
    const ArcId a = m_states.arc(state);
    std::uint64_t best = ahead.after(state);
    if (best != unreached_weight)
        best = add_checked(best, weight_of(m_graph, ahead.weights, {a, at_dm, m_graph.arc(a).length_dm}));
    for (const RoutePiece& t : m_ends.targets)
        if (t.arc == a && t.to_dm >= at_dm)
            best = std::min(best, weight_of(m_graph, ahead.weights, {a, at_dm, t.to_dm}));
    return best;
}

}  // namespace loamway
