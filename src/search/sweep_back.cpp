// SPDX-License-Identifier: Apache-2.0

#include "beeline.h"
#include "places_on.h"
#include "radix_heap.h"
#include "route_ends.h"
#include "states.h"

namespace loamway {

namespace {

class BackSweep {
public:
    BackSweep(const VehicleRoads& roads, std::span<const std::uint32_t> primary, const SweepLimits& limits,
              const TurnPrices& turns, const PlacesOn* places)
        : m_roads(roads),
          m_graph(roads.graph()),
          m_states(roads),
          m_primary(primary),
          m_limits(limits),
          m_turns(turns),
          m_places(places),
          m_to_go(m_states.count()) {}

    FarArray<std::uint64_t> run(const RouteEnds& ends) {
        for (const RoutePiece& t : ends.targets) {
            reach_before(t, 0);
            if (m_places != nullptr)
                turn_onto(t, 0);
        }
        while (!m_queue.empty()) {
            const auto [value, state] = m_queue.pop();
            if (value == m_to_go[state])
                step_back(state, value);
        }
        return std::move(m_to_go);
    }

private:
    void reach(std::uint32_t state, std::uint64_t value) {
        const bool inside = primary_of(value) <= m_limits.primary && length_of(value) <= m_limits.length_dm &&
                            (m_limits.within == nullptr || (*m_limits.within)[state] != unreached_weight);
        if (inside && value < m_to_go[state] && near_enough(state, value)) {
            m_to_go.set(state, value);
            m_queue.push({value, state});
        }
    }
    [[nodiscard]] bool near_enough(std::uint32_t state, std::uint64_t value) const {
        if (m_limits.start == nullptr)
            return true;
        const NodeId at = m_graph.head(m_states.arc(state));
        return length_of(value) + (*m_limits.start)(m_graph.region().node_point(at)) <= m_limits.length_dm;
    }
    [[nodiscard]] std::uint64_t weigh(const RoutePiece& p) const { return weight_of(m_graph, m_primary, p); }
    [[nodiscard]] std::uint64_t turn(ArcId in, const RoutePiece& out) const {
        return turn_weight(m_graph, m_turns, whole_arc(m_graph, in), out);
    }

    // Every state that may go on along a stretch at the beginning of its arc.
    void reach_before(const RoutePiece& piece, std::uint64_t rest) {
        const std::uint64_t through = add_checked(rest, weigh(piece));
        const NodeId at = m_graph.tail(piece.arc);
        for (std::uint32_t i = m_graph.arc_begin(at); i < m_graph.arc_end(at); ++i) {
            const ArcId in = m_graph.twin(ArcId{i});
            if (m_roads.open(in))
                m_states.for_each_state_of(in, [&](std::uint32_t state) {
                    if (m_states.follow(state, piece.arc))
                        reach(state, add_checked(through, turn(in, piece)));
                });
        }
    }

    void step_back(std::uint32_t state, std::uint64_t value) {
        const RoutePiece here = whole_arc(m_graph, m_states.arc(state));
        const std::uint64_t through = add_checked(value, weigh(here));
        m_states.for_each_previous(state, [&](std::uint32_t before) {
            reach(before, add_checked(through, turn(m_states.arc(before), here)));
        });
        if (m_places != nullptr)
            turn_onto(here, value);
    }

    // Onto a stretch that ends where its arc does, or the move: by turning round at a mouth at its beginning,
    // or at a place beside it. The prices of those turns are left out: this is a bound.
    void turn_onto(const RoutePiece& piece, std::uint64_t rest) {
        const ArcId in = m_graph.twin(piece.arc);
        if (!m_roads.open(in))
            return;
        m_places->for_each_mouth(m_graph.tail(piece.arc), [&](std::uint32_t, const MouthOffer& m) {
            if (m_places->turns(m, in))
                m_states.for_each_state_of(in, [&](std::uint32_t before) {
                    if (m_states.turn_round(before))
                        reach(before, add_checked(rest, weigh(piece)));
                });
        });
        const std::uint32_t length = m_graph.arc(in).length_dm;
        m_places->for_each_beside(in, [&](std::uint32_t, std::uint32_t at_dm, bool turns) {
            if (turns && length - at_dm <= piece.to_dm)
                reach_before({in, 0, at_dm},
                             add_checked(rest, weigh({piece.arc, length - at_dm, piece.to_dm})));
        });
    }

    struct Entry {
        std::uint64_t key;  // packed weight to go
        std::uint32_t state;
    };
    const VehicleRoads& m_roads;
    const RoadGraph& m_graph;
    const States m_states;
    std::span<const std::uint32_t> m_primary;
    const SweepLimits& m_limits;
    const TurnPrices& m_turns;
    const PlacesOn* m_places;
    FarArray<std::uint64_t> m_to_go;
    RadixHeap<Entry> m_queue;
};

}  // namespace

FarArray<std::uint64_t> sweep_back(const VehicleRoads& roads, const RouteEnds& ends,
                                   std::span<const std::uint32_t> primary, const SweepLimits& limits,
                                   const TurnPrices& turns, const PlacesOn* places) {
    return BackSweep(roads, primary, limits, turns, places).run(ends);
}

}  // namespace loamway
