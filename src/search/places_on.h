// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEARCH_PLACES_ON_H
#define LOAMWAY_SEARCH_PLACES_ON_H

// The offers of a StopSearchQuestion as a search meets them: beside an arc in the direction of travel, and at
// a node between two arcs.

#include <algorithm>

#include "loamway/search/stop_search.h"

namespace loamway {

class PlacesOn {
public:
    PlacesOn(const VehicleRoads& roads, const StopOffers& offers)
        : m_roads(&roads), m_graph(&roads.graph()), m_offers(&offers) {}

    /// Every offer beside an arc: its number, where it lies along the direction of travel, and whether one
    /// may turn round there; along the edge.
    template <class Visit>
    void for_each_beside(ArcId a, Visit&& visit) const {
        const ArcRecord& arc = m_graph->arc(a);
        const auto& beside = m_offers->beside;
        const auto first = std::lower_bound(beside.begin(), beside.end(), EdgeId{arc.edge},
                                            [](const BesideOffer& o, EdgeId e) { return o.edge < e; });
        for (auto o = first; o != beside.end() && o->edge.value() == arc.edge; ++o)
            visit(static_cast<std::uint32_t>(o - beside.begin()),
                  arc.reversed != 0 ? arc.length_dm - o->offset_dm : o->offset_dm, o->turns);
    }

    /// Every mouth at a node: the number of its offer and the mouth.
    template <class Visit>
    void for_each_mouth(NodeId node, Visit&& visit) const {
        const auto& mouths = m_offers->mouths;
        const auto first =
            std::lower_bound(mouths.begin(), mouths.end(), node,
                             [&](const MouthOffer& m, NodeId n) { return m_graph->tail(m.spur) < n; });
        for (auto m = first; m != mouths.end() && m_graph->tail(m->spur) == node; ++m)
            visit(static_cast<std::uint32_t>(m_offers->beside.size() +
                                             static_cast<std::size_t>(m - mouths.begin())),
                  *m);
    }
    [[nodiscard]] bool is_mouth(std::uint32_t offer) const { return offer >= m_offers->beside.size(); }
    [[nodiscard]] const MouthOffer& mouth(std::uint32_t offer) const {
        return m_offers->mouths[offer - m_offers->beside.size()];
    }
    /// A mouth can serve on the way from one arc to another when it is neither and may be entered and left.
    [[nodiscard]] bool serves(const MouthOffer& m, ArcId in) const {
        return m_graph->edge_of(m.spur) != m_graph->edge_of(in) && m_roads->may_follow(in, m.spur);
    }
    [[nodiscard]] bool leads_to(const MouthOffer& m, ArcId out) const {
        return m_graph->edge_of(m.spur) != m_graph->edge_of(out) &&
               !m_roads->banned(m_graph->twin(m.spur), out);
    }
    /// Whether a stop there may be left the way the vehicle came along `in`.
    [[nodiscard]] bool turns(const MouthOffer& m, ArcId in) const {
        return m.turns && serves(m, in) && leads_to(m, m_graph->twin(in));
    }

private:
    const VehicleRoads* m_roads;
    const RoadGraph* m_graph;
    const StopOffers* m_offers;
};

}  // namespace loamway

#endif
