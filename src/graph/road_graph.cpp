// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/road_graph.h"

#include <algorithm>

namespace loamway {

RoadGraph::RoadGraph(const RegionView& region) : m_region(region), m_edge_arcs(region.edge_count()) {
    for (std::uint32_t a = 0; a < region.arcs.size(); ++a) {
        const ArcRecord& r = region.arcs[a];
        m_edge_arcs[r.edge][r.reversed != 0 ? 1 : 0] = a;
    }
}

std::vector<GeoPoint> RoadGraph::arc_points(ArcId a) const {
    std::vector<GeoPoint> points = m_region.edge_points(edge_of(a));
    if (arc(a).reversed != 0)
        std::reverse(points.begin(), points.end());
    return points;
}

Climb RoadGraph::climb(ArcId a) const {
    if (!has_heights())
        return {};
    const EdgeClimbRecord& r = m_region.edge_climb[arc(a).edge];
    const Climb along{Length::from_decimetres(r.ascent_dm), Length::from_decimetres(r.descent_dm)};
    return arc(a).reversed != 0 ? Climb{along.descent, along.ascent} : along;
}

std::vector<HeightAt> RoadGraph::heights_along(ArcId a) const {
    std::vector<std::int32_t> profile = m_region.edge_heights_dm(edge_of(a));
    if (arc(a).reversed != 0)
        std::reverse(profile.begin(), profile.end());
    std::vector<HeightAt> heights;
    heights.reserve(profile.size());
    const std::uint64_t pieces = height_pieces(arc(a).length_dm);
    for (std::size_t i = 0; i < profile.size(); ++i)
        heights.push_back({static_cast<std::uint32_t>(std::uint64_t{arc(a).length_dm} * i / pieces),
                           Length::from_decimetres(profile[i])});
    return heights;
}

TagView RoadGraph::tags(TagSetId set) const {
    std::vector<Tag> tags;
    for (std::uint32_t i = m_region.tag_set_first[set.index()];
         i + 1 < m_region.tag_set_first[set.index() + 1]; i += 2)
        tags.push_back(
            {m_region.string(m_region.tag_set_strings[i]), m_region.string(m_region.tag_set_strings[i + 1])});
    return TagView(std::move(tags));
}

TagSetId RoadGraph::node_tag_set(NodeId n) const {
    const auto& all = m_region.node_tags;
    const auto at = std::lower_bound(all.begin(), all.end(), n.value(),
                                     [](const NodeTagRecord& r, std::uint32_t v) { return r.node < v; });
    return at != all.end() && at->node == n.value() ? TagSetId{at->tag_set} : TagSetId{};
}

}  // namespace loamway
