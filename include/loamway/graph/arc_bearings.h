// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_GRAPH_ARC_BEARINGS_H
#define LOAMWAY_GRAPH_ARC_BEARINGS_H

// In which direction arcs leave a junction, measured over their first metres so that a kink at the junction
// does not count as a turn.

#include <atomic>
#include <vector>

#include "loamway/graph/road_graph.h"

namespace loamway {

/// Bearings in degrees, each worked out when first asked for. Thread-safe; keeps a reference to the graph.
class ArcBearings {
public:
    explicit ArcBearings(const RoadGraph& graph);
    /// Of the first 20 m or so.
    [[nodiscard]] float at_start(ArcId a) const;

private:
    const RoadGraph& m_graph;
    mutable std::vector<std::atomic<float>> m_bearing;  // by arc
};

/// Change of direction when going from one arc to the next, in degrees, positive to the right.
[[nodiscard]] double turn_between(const RoadGraph& graph, ArcId in, ArcId out);

}  // namespace loamway

#endif
