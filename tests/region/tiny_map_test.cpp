// SPDX-License-Identifier: Apache-2.0
// The builder of tiny maps that tests of other parts stand on.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "../../src/region/check.h"
#include "drawn_region.h"

namespace loamway {
namespace {

TEST(TinyMap, HoldsTogether) {
    EXPECT_FALSE(structure_fault(TinyMap().build().view()));
    const Fault fault = structure_fault(test::drawn_region().view());
    EXPECT_FALSE(fault) << *fault;
}

TEST(TinyMap, MeasuresAlongThePoints) {
    TinyMap m;
    const NodeId a = m.node(0.0, 10.0);
    const NodeId b = m.node(0.0, 10.01);
    const EdgeId straight = m.edge(a, b);
    const EdgeId bent = m.road(a, b, {.inner = {GeoPoint::from_degrees(0.01, 10.0)}});
    // 0.01 degree along the equator: 6378137 m x pi / 18000 = 1113.1949 m.
    EXPECT_EQ(m.length_dm(straight), 11132u);
    EXPECT_GT(m.length_dm(bent), 2 * m.length_dm(straight));
    EXPECT_EQ(m.build().arcs[0].length_dm, 11132u);
}

TEST(TinyMap, SharesTagSetsAndStringsAndMarksWhatIsKnown) {
    TinyMap m;
    const NodeId a = m.node(53.5, 13.2);
    const NodeId b = m.node(53.6, 13.2);
    m.edge(a, b, {{"highway", "track"}, {"surface", "gravel"}}, SurfaceOdds{0, 200, 0}, true, "Lane");
    m.edge(a, b, {{"surface", "gravel"}, {"highway", "track"}}, SurfaceOdds{20, 170, 10}, false, "Lane");
    const RegionData d = m.build();
    EXPECT_EQ(d.edges[0].tag_set, d.edges[1].tag_set);
    EXPECT_EQ(d.edges[0].name, d.edges[1].name);
    EXPECT_EQ(d.edges[0].flags, edge_flag::known);
    EXPECT_EQ(d.edges[1].flags, 0);
    const RegionView v = d.view();
    const std::uint32_t first = v.tag_set_first[v.edges[0].tag_set];
    EXPECT_EQ(v.string(v.tag_set_strings[first]), "highway");
    EXPECT_EQ(v.string(v.tag_set_strings[first + 1]), "track");
    EXPECT_EQ(v.string(v.edges[0].name), "Lane");
}

TEST(TinyMap, NumbersComponentsByLength) {
    TinyMap m;
    const NodeId lone = m.node(10.0, 10.0);
    const NodeId a = m.node(20.0, 10.0);
    const NodeId b = m.node(20.0, 10.001);
    const NodeId c = m.node(30.0, 10.0);
    const NodeId d = m.node(30.0, 10.1);
    const NodeId e = m.node(30.0, 10.2);
    m.edge(a, b);
    m.edge(e, d);
    m.edge(d, c);
    const RegionData r = m.build();
    EXPECT_EQ(r.component[lone.index()], 2u);
    EXPECT_EQ(r.component[a.index()], 1u);
    EXPECT_EQ(r.component[b.index()], 1u);
    EXPECT_EQ(r.component[c.index()], 0u);
    EXPECT_EQ(r.component[d.index()], 0u);
    EXPECT_EQ(r.component[e.index()], 0u);
}

TEST(TinyMap, PutsStopPlacesOnTheirEdge) {
    TinyMap m;
    const NodeId a = m.node(0.0, 10.0);
    const NodeId b = m.node(0.0, 10.01);
    const EdgeId e = m.road(a, b, {.inner = {GeoPoint::from_degrees(0.0, 10.002)}});
    m.stop_place(e, m.length_dm(e) / 2);
    m.stop_place(e, 0);
    m.stop_place(e, m.length_dm(e), StopPlaceKind::parking, "Yard");
    const RegionData d = m.build();
    EXPECT_NEAR(d.stop_places[0].lon_e7, 100050000, 100);
    EXPECT_NEAR(d.stop_places[1].lon_e7, 100000000, 1);
    EXPECT_NEAR(d.stop_places[2].lon_e7, 100100000, 1);
    EXPECT_EQ(d.view().string(d.stop_places[2].name), "Yard");
}

/// Every point of every edge lies in a cell that lists the edge, on maps of very different sizes.
TEST(TinyMap, GridListsEveryEdgeWhereItIs) {
    for (const double size : {0.0001, 0.02, 1.0, 100.0}) {
        TinyMap m;
        std::vector<NodeId> nodes;
        for (int i = 0; i < 12; ++i)
            nodes.push_back(m.node(-30.0 + size * std::fmod(i * 0.37, 0.6), size * std::fmod(i * 0.73, 1.0)));
        for (std::size_t i = 0; i + 1 < nodes.size(); ++i)
            m.edge(nodes[i], nodes[i + 1]);
        const RegionData d = m.build();
        const RegionView v = d.view();
        const std::int64_t cell = v.grid_header[2];
        for (std::uint32_t e = 0; e < v.edge_count(); ++e)
            for (const GeoPoint p : v.edge_points(EdgeId(e))) {
                const std::int64_t row = (p.lat_e7 - std::int64_t{v.grid_header[0]}) / cell;
                const std::int64_t column = (p.lon_e7 - std::int64_t{v.grid_header[1]}) / cell;
                ASSERT_TRUE(row >= 0 && row < v.grid_header[3] && column >= 0 && column < v.grid_header[4]);
                const auto number = static_cast<std::size_t>(row * v.grid_header[4] + column);
                const auto listed = v.grid_edges.subspan(v.grid_first[number],
                                                         v.grid_first[number + 1] - v.grid_first[number]);
                EXPECT_NE(std::find(listed.begin(), listed.end(), e), listed.end());
            }
    }
}

}  // namespace
}  // namespace loamway
