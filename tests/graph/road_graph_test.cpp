// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/road_graph.h"

#include <gtest/gtest.h>

#include <boost/concept/assert.hpp>
#include <boost/graph/connected_components.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>

#include "loamway/graph/boost_graph.h"
#include "loamway/graph/snap.h"
#include "loamway/graph/vehicle_roads.h"
#include "support/random_map.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

BOOST_CONCEPT_ASSERT((boost::VertexListGraphConcept<RoadGraph>));
BOOST_CONCEPT_ASSERT((boost::EdgeListGraphConcept<RoadGraph>));
BOOST_CONCEPT_ASSERT((boost::IncidenceGraphConcept<RoadGraph>));

TEST(RoadGraph, BoostAlgorithmsRunOnItWithoutACopy) {
    const Region region = random_region(3, 8, 8);
    const RoadGraph graph(region.view());
    std::vector<std::uint32_t> distance(graph.node_count());
    std::vector<std::uint32_t> length(graph.arc_count());
    for (std::uint32_t a = 0; a < length.size(); ++a)
        length[a] = graph.arc(ArcId{a}).length_dm;
    boost::dijkstra_shortest_paths(
        graph, 0u,
        boost::weight_map(boost::make_iterator_property_map(length.begin(), RoadIndexMap()))
            .vertex_index_map(RoadIndexMap())
            .distance_map(boost::make_iterator_property_map(distance.begin(), RoadIndexMap())));
    // The shortest-path inequality holds on every arc and is tight on at least one arc into each node.
    std::vector<bool> tight(graph.node_count(), false);
    tight[0] = true;
    for (std::uint32_t a = 0; a < length.size(); ++a) {
        const std::uint32_t u = graph.tail(ArcId{a}).value(), v = graph.head(ArcId{a}).value();
        if (distance[u] == std::numeric_limits<std::uint32_t>::max())
            continue;
        EXPECT_LE(distance[v], distance[u] + length[a]);
        if (distance[v] == distance[u] + length[a])
            tight[v] = true;
    }
    for (std::size_t n = 0; n < tight.size(); ++n)
        EXPECT_TRUE(tight[n] || distance[n] == std::numeric_limits<std::uint32_t>::max());
}

TEST(RoadGraph, ClimbsInTheDirectionOfTravel) {
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.509, 13.20), c = m.node(53.51, 13.21);
    const EdgeId hill = m.road(a, b, {.length_dm = 10010}), plain = m.edge(b, c);
    m.heights(hill, {20.0, 50.0, 44.0});
    const Region region = Region::from_data(m.build());
    const RoadGraph graph(region.view());
    EXPECT_TRUE(graph.has_heights());
    const ArcId up = graph.arc_of(hill, false), down = graph.arc_of(hill, true);
    EXPECT_NEAR(graph.climb(up).ascent.metres(), 30.0, 1.5);  // the summit lies between two heights
    EXPECT_NEAR(graph.climb(up).ascent.metres() - graph.climb(up).descent.metres(), 24.0, 1e-9);
    EXPECT_EQ(graph.climb(down).ascent, graph.climb(up).descent);
    EXPECT_EQ(graph.climb(down).descent, graph.climb(up).ascent);

    const std::vector<HeightAt> there = graph.heights_along(up), back = graph.heights_along(down);
    ASSERT_EQ(there.size(), 22u);  // 1001 m in 21 pieces
    ASSERT_EQ(back.size(), there.size());
    EXPECT_EQ(there.front().at_dm, 0u);
    EXPECT_EQ(there.back().at_dm, 10010u);
    EXPECT_EQ(there.front().height.metres(), 20.0);
    EXPECT_EQ(there.back().height.metres(), 44.0);
    for (std::size_t i = 0; i < there.size(); ++i) {
        EXPECT_EQ(there[i].height, back[there.size() - 1 - i].height);
        if (i > 0) {
            EXPECT_LE(there[i].at_dm - there[i - 1].at_dm, 500u);
        }
    }

    EXPECT_TRUE(graph.heights_along(graph.arc_of(plain, false)).empty());
    EXPECT_EQ(graph.climb(graph.arc_of(plain, false)).ascent, Length());
}

TEST(RoadGraph, WithoutHeightsNothingClimbs) {
    const Region region = random_region(3, 4, 4);
    const RoadGraph graph(region.view());
    EXPECT_FALSE(graph.has_heights());
    EXPECT_EQ(graph.climb(ArcId{0u}).ascent, Length());
    EXPECT_EQ(graph.climb(ArcId{0u}).descent, Length());
    EXPECT_TRUE(graph.heights_along(ArcId{0u}).empty());
}

TEST(RoadGraph, TwinsTurnBack) {
    const Region region = random_region(4, 6, 6);
    const RoadGraph graph(region.view());
    for (std::uint32_t a = 0; a < graph.arc_count(); ++a) {
        const ArcId arc{a}, twin = graph.twin(arc);
        EXPECT_NE(arc, twin);
        EXPECT_EQ(graph.twin(twin), arc);
        EXPECT_EQ(graph.tail(arc), graph.head(twin));
        EXPECT_EQ(graph.head(arc), graph.tail(twin));
        auto there = graph.arc_points(arc), back = graph.arc_points(twin);
        std::reverse(back.begin(), back.end());
        EXPECT_EQ(there, back);
    }
}

// The nearest open edge, by looking at all of them.
TEST(Snap, EqualsLookingAtEveryEdge) {
    for (std::uint64_t seed = 20; seed < 26; ++seed) {
        const Region region = random_region(seed, 7, 7);
        const RoadGraph graph(region.view());
        const VehicleRoads roads(graph, small_tractor(), {});
        TestRandom random(seed);
        for (int q = 0; q < 200; ++q) {
            const GeoPoint p{530000000 + static_cast<std::int32_t>(random.below(260000)) - 60000,
                             130000000 + static_cast<std::int32_t>(random.below(320000)) - 60000};
            double nearest = 1e18;
            for (std::size_t e = 0; e < region.view().edge_count(); ++e)
                if (roads.part_of(EdgeId{e}) != VehicleRoads::no_part)
                    nearest =
                        std::min(nearest, project(p, region.view().edge_points(EdgeId{e})).distance.metres());
            const auto at = snap(roads, p, Length::from_metres(400));
            const auto any = distance_to_roads(roads, p);
            ASSERT_TRUE(any);
            EXPECT_DOUBLE_EQ(any->metres(), nearest);
            ASSERT_EQ(at.has_value(), nearest <= 400);
            if (at) {
                EXPECT_DOUBLE_EQ(at->off_road.metres(), nearest);
                // The offset, a whole decimetre of the stored length, leads back to the point on the road.
                const auto line = region.view().edge_points(at->edge);
                const double stored = region.view().edges[at->edge.index()].length_dm;
                const double step = stored > 0 ? polyline_length(line).metres() / stored : 1e9;
                EXPECT_LT(distance(point_on_edge(graph, at->edge, at->offset_dm), at->point).metres(),
                          0.6 * step + 0.02);
            }
        }
    }
}

TEST(VehicleRoads, ABollardParts) {
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.21), c = m.node(53.50, 13.22);
    const EdgeId ab = m.edge(a, b), bc = m.edge(b, c);
    m.node_tags(b, {{"barrier", "bollard"}});
    const Region region = Region::from_data(m.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    EXPECT_TRUE(roads.blocked(b));
    EXPECT_FALSE(roads.may_follow(graph.arc_of(ab, false), graph.arc_of(bc, false)));
    EXPECT_TRUE(roads.may_follow(graph.arc_of(ab, false), graph.arc_of(ab, true)));
    EXPECT_NE(roads.part_of(ab), roads.part_of(bc));
    EXPECT_EQ(roads.part_count(), 2u);
}

// Found on the invented county: a yard's lanes behind a private drive could not be left, because the lanes
// counted as public and driving from public over private to public ground is not allowed.
TEST(VehicleRoads, LanesBehindAPrivateDriveBelongToIt) {
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.25), c = m.node(53.501, 13.25),
                 d = m.node(53.502, 13.25);
    const EdgeId road = m.edge(a, b, {{"highway", "tertiary"}});
    m.edge(b, c, {{"highway", "service"}, {"access", "private"}});
    const EdgeId lane = m.edge(c, d, {{"highway", "service"}});
    const Region region = Region::from_data(m.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    EXPECT_TRUE(roads.ends_only(graph.arc_of(lane, false)));
    EXPECT_FALSE(roads.ends_only(graph.arc_of(road, false)));
    EXPECT_EQ(roads.part_of(lane), roads.part_of(road));
}

TEST(VehicleRoads, LimitsAreComparedWithTheVehicle) {
    TinyMap m;
    const NodeId a = m.node(53.50, 13.20), b = m.node(53.50, 13.21), c = m.node(53.50, 13.22),
                 d = m.node(53.50, 13.23);
    const EdgeId light = m.edge(a, b, {{"highway", "tertiary"}, {"maxweight", "12"}});
    const EdgeId low = m.edge(b, c, {{"highway", "tertiary"}, {"maxheight", "3.2"}});
    const EdgeId strong = m.edge(c, d, {{"highway", "tertiary"}, {"maxweight", "30"}});
    const Region region = Region::from_data(m.build());
    const RoadGraph graph(region.view());
    const VehicleRoads roads(graph, small_tractor(), {});
    EXPECT_FALSE(roads.open(graph.arc_of(light, false)));
    EXPECT_FALSE(roads.open(graph.arc_of(low, true)));
    EXPECT_TRUE(roads.open(graph.arc_of(strong, false)));
}

}  // namespace
}  // namespace loamway
