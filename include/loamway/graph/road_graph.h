// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_ROAD_GRAPH_H
#define LOAMWAY_GRAPH_ROAD_GRAPH_H

// The road graph over an open region: who follows whom, which arc turns back along which. It knows nothing
// of vehicles; VehicleRoads does. Holds views into the region, which must outlive it. Thread-safe to read.

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "loamway/base/ids.h"
#include "loamway/base/units.h"
#include "loamway/region/region.h"
#include "loamway/tags/tag_view.h"

namespace loamway {

/// How much a piece of road goes up and down in the direction of travel; small ups and downs are left out.
struct Climb {
    Length ascent, descent;
};

struct HeightAt {
    std::uint32_t at_dm = 0;  // from the arc's tail
    Length height;            // above sea level
};

class RoadGraph {
public:
    explicit RoadGraph(const RegionView& region);

    [[nodiscard]] const RegionView& region() const { return m_region; }
    [[nodiscard]] std::size_t node_count() const { return m_region.node_count(); }
    [[nodiscard]] std::size_t arc_count() const { return m_region.arcs.size(); }
    /// Arcs that leave a node are numbered arc_begin(n) .. arc_end(n)-1.
    [[nodiscard]] std::uint32_t arc_begin(NodeId n) const { return m_region.arc_first[n.index()]; }
    [[nodiscard]] std::uint32_t arc_end(NodeId n) const { return m_region.arc_first[n.index() + 1]; }

    [[nodiscard]] const ArcRecord& arc(ArcId a) const { return m_region.arcs[a.index()]; }
    [[nodiscard]] NodeId head(ArcId a) const { return NodeId{arc(a).head}; }
    [[nodiscard]] NodeId tail(ArcId a) const {
        const ArcRecord& r = arc(a);
        const EdgeRecord& e = m_region.edges[r.edge];
        return NodeId{r.reversed != 0 ? e.head : e.tail};
    }
    [[nodiscard]] EdgeId edge_of(ArcId a) const { return EdgeId{arc(a).edge}; }
    [[nodiscard]] const EdgeRecord& edge(ArcId a) const { return m_region.edges[arc(a).edge]; }
    /// The arc of an edge in its own direction (reversed = false) or against it.
    [[nodiscard]] ArcId arc_of(EdgeId e, bool reversed) const {
        return ArcId{m_edge_arcs[e.index()][reversed ? 1 : 0]};
    }
    /// The same piece of road in the other direction.
    [[nodiscard]] ArcId twin(ArcId a) const { return arc_of(edge_of(a), arc(a).reversed == 0); }
    /// Points in the direction of travel.
    [[nodiscard]] std::vector<GeoPoint> arc_points(ArcId a) const;
    /// Whether the region was built with elevation. Single roads may lack heights all the same.
    [[nodiscard]] bool has_heights() const { return m_region.has_heights(); }
    /// In the direction of travel; zero where heights are not known.
    [[nodiscard]] Climb climb(ArcId a) const;
    /// The height profile in the direction of travel, at most 50 m from height to height, both ends
    /// included; empty where it is not known.
    [[nodiscard]] std::vector<HeightAt> heights_along(ArcId a) const;
    /// The OSM tags that matter, as stored.
    [[nodiscard]] TagView tags(TagSetId set) const;
    [[nodiscard]] TagView tags(EdgeId e) const { return tags(TagSetId{m_region.edges[e.index()].tag_set}); }
    /// Tag set of a node; none for most nodes.
    [[nodiscard]] TagSetId node_tag_set(NodeId n) const;

private:
    RegionView m_region;
    std::vector<std::array<std::uint32_t, 2>> m_edge_arcs;
};

}  // namespace loamway

#endif
