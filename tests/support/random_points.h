// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_RANDOM_POINTS_H
#define LOAMWAY_TESTS_SUPPORT_RANDOM_POINTS_H

// Points on roads to ask the searches from and to.

#include "loamway/graph/snap.h"
#include "loamway/graph/vehicle_roads.h"
#include "support/test_random.h"

namespace loamway::test {

/// A road that is open one way at least.
inline EdgeId random_open_edge(const VehicleRoads& roads, TestRandom& random) {
    const RoadGraph& graph = roads.graph();
    for (;;) {
        const EdgeId e{random.below(static_cast<std::uint32_t>(graph.region().edge_count()))};
        if (roads.open(graph.arc_of(e, false)) || roads.open(graph.arc_of(e, true)))
            return e;
    }
}

/// On an open road, often at its very end.
inline RoadPoint random_point(const VehicleRoads& roads, TestRandom& random) {
    RoadPoint p;
    p.edge = random_open_edge(roads, random);
    const std::uint32_t length = roads.graph().region().edges[p.edge.index()].length_dm;
    p.offset_dm = random.chance(20) ? 0 : random.chance(20) ? length : random.below(length + 1);
    return p;
}

}  // namespace loamway::test

#endif
