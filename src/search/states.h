// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_STATES_H
#define LOAMWAY_SEARCH_STATES_H

// The states a route search runs over. A state is an arc that has been driven to its end. Arcs that may be
// used only at either end of a move have two: one before the first open arc, one after the last. From the
// second there is no way back onto open roads.

#include <cstdint>
#include <optional>

#include "loamway/graph/vehicle_roads.h"

namespace loamway {

class States {
public:
    explicit States(const VehicleRoads& roads)
        : m_roads(&roads), m_arcs(static_cast<std::uint32_t>(roads.graph().arc_count())) {}

    [[nodiscard]] const RoadGraph& graph() const { return m_roads->graph(); }
    [[nodiscard]] std::uint32_t count() const { return 2 * m_arcs; }
    [[nodiscard]] ArcId arc(std::uint32_t state) const { return ArcId{state < m_arcs ? state : state - m_arcs}; }
    [[nodiscard]] bool at_end_side(std::uint32_t state) const { return state >= m_arcs; }
    [[nodiscard]] std::uint32_t start_state(ArcId a) const { return a.value(); }

    /// The state after going on along `next`, or nothing when that is not allowed.
    [[nodiscard]] std::optional<std::uint32_t> follow(std::uint32_t state, ArcId next) const {
        const ArcId a = arc(state);
        if (!m_roads->may_follow(a, next))
            return std::nullopt;
        if (!m_roads->ends_only(next))
            return at_end_side(state) ? std::nullopt : std::optional(next.value());
        const bool end_side = at_end_side(state) || !m_roads->ends_only(a);
        return next.value() + (end_side ? m_arcs : 0);
    }

    template <class Visit>
    void for_each_next(std::uint32_t state, Visit&& visit) const {
        const RoadGraph& graph = m_roads->graph();
        const NodeId via = graph.head(arc(state));
        for (std::uint32_t a = graph.arc_begin(via); a < graph.arc_end(via); ++a)
            if (const auto next = follow(state, ArcId{a}))
                visit(*next);
    }

    /// Every state from which `state` can follow. Arcs into a node are the twins of the arcs out of it.
    template <class Visit>
    void for_each_previous(std::uint32_t state, Visit&& visit) const {
        const RoadGraph& graph = m_roads->graph();
        const NodeId via = graph.tail(arc(state));
        for (std::uint32_t a = graph.arc_begin(via); a < graph.arc_end(via); ++a) {
            const ArcId in = graph.twin(ArcId{a});
            if (!m_roads->open(in))
                continue;
            if (follow(in.value(), arc(state)) == state)
                visit(in.value());
            if (m_roads->ends_only(in) && follow(in.value() + m_arcs, arc(state)) == state)
                visit(in.value() + m_arcs);
        }
    }

private:
    const VehicleRoads* m_roads;
    std::uint32_t m_arcs;
};

}  // namespace loamway

#endif
