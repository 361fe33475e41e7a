// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_STATES_H
#define LOAMWAY_SEARCH_STATES_H

// The states a route search runs over. A state is an arc that has been driven to its end. Arcs that may be
// used only at either end of a move have two: one before the first open arc, one after the last. From the
// second there is no way back onto open roads. Where a turn restriction spans several roads there are further
// states for arcs that were reached along its first roads.

#include <cstdint>
#include <optional>

#include "loamway/graph/vehicle_roads.h"

namespace loamway {

class States {
public:
    explicit States(const VehicleRoads& roads)
        : m_roads(&roads),
          m_chains(&roads.turn_chains()),
          m_arcs(static_cast<std::uint32_t>(roads.graph().arc_count())),
          m_memories(m_chains->empty() ? 0 : static_cast<std::uint32_t>(m_chains->size())) {}

    [[nodiscard]] const RoadGraph& graph() const { return m_roads->graph(); }
    [[nodiscard]] std::uint32_t count() const { return 2 * (m_arcs + m_memories); }
    [[nodiscard]] ArcId arc(std::uint32_t state) const {
        const std::uint32_t place = of_side(state);
        return place < m_arcs ? ArcId{place} : m_chains->last_arc(place - m_arcs);
    }
    [[nodiscard]] bool at_end_side(std::uint32_t state) const { return state >= m_arcs + m_memories; }
    [[nodiscard]] std::uint32_t start_state(ArcId a) const { return a.value(); }

    /// The state after going on along `next`, or nothing when that is not allowed.
    [[nodiscard]] std::optional<std::uint32_t> follow(std::uint32_t state, ArcId next) const {
        const ArcId a = arc(state);
        if (!m_roads->may_follow(a, next))
            return std::nullopt;
        const bool ends_only = m_roads->ends_only(next);
        if (!ends_only && at_end_side(state))
            return std::nullopt;
        const bool end_side = ends_only && (at_end_side(state) || !m_roads->ends_only(a));
        std::uint32_t place = next.value();
        if (m_memories > 0) {
            const auto memory = m_chains->step(memory_of(state), next);
            if (!memory)
                return std::nullopt;
            if (m_chains->reach(*memory) >= 2)
                place = m_arcs + *memory;
        }
        return place + (end_side ? m_arcs + m_memories : 0);
    }

    /// The state after turning round where turning is allowed though the roads do not ask for it: the arc's
    /// twin, driven to its end.
    [[nodiscard]] std::optional<std::uint32_t> turn_round(std::uint32_t state) const {
        const ArcId a = arc(state), back = m_roads->graph().twin(a);
        const bool ends_only = m_roads->ends_only(back);
        if (!m_roads->open(back) || (!ends_only && at_end_side(state)))
            return std::nullopt;
        const bool end_side = ends_only && (at_end_side(state) || !m_roads->ends_only(a));
        return back.value() + (end_side ? m_arcs + m_memories : 0);
    }

    template <class Visit>
    void for_each_next(std::uint32_t state, Visit&& visit) const {
        const RoadGraph& graph = m_roads->graph();
        const NodeId via = graph.head(arc(state));
        for (std::uint32_t a = graph.arc_begin(via); a < graph.arc_end(via); ++a)
            if (const auto next = follow(state, ArcId{a}))
                visit(*next);
    }

    /// Every state that stands for having driven an arc.
    template <class Visit>
    void for_each_state_of(ArcId a, Visit&& visit) const {
        const auto both_sides = [&](std::uint32_t place) {
            visit(place);
            if (m_roads->ends_only(a))
                visit(place + m_arcs + m_memories);
        };
        both_sides(a.value());
        if (m_memories > 0)
            for (const TurnChains::Memory memory : m_chains->longer_at(a))
                both_sides(m_arcs + memory);
    }

    /// Every state from which `state` can follow. Arcs into a node are the twins of the arcs out of it.
    template <class Visit>
    void for_each_previous(std::uint32_t state, Visit&& visit) const {
        const RoadGraph& graph = m_roads->graph();
        const ArcId here = arc(state);
        const NodeId via = graph.tail(here);
        for (std::uint32_t a = graph.arc_begin(via); a < graph.arc_end(via); ++a) {
            const ArcId in = graph.twin(ArcId{a});
            if (m_roads->open(in))
                for_each_state_of(in, [&](std::uint32_t before) {
                    if (follow(before, here) == state)
                        visit(before);
                });
        }
    }

private:
    [[nodiscard]] std::uint32_t of_side(std::uint32_t state) const {
        return at_end_side(state) ? state - m_arcs - m_memories : state;
    }
    // A plain state remembers its own arc, in case a restriction begins with it.
    [[nodiscard]] TurnChains::Memory memory_of(std::uint32_t state) const {
        const std::uint32_t place = of_side(state);
        return place < m_arcs
                   ? m_chains->step(TurnChains::nothing, ArcId{place}).value_or(TurnChains::nothing)
                   : place - m_arcs;
    }

    const VehicleRoads* m_roads;
    const TurnChains* m_chains;
    std::uint32_t m_arcs;
    std::uint32_t m_memories;
};

}  // namespace loamway

#endif
