// SPDX-License-Identifier: Apache-2.0
// From ways to edges: where roads are cut, and what becomes of broken ones.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "../../src/region/check.h"
#include "loamway/base/error.h"
#include "opl_map.h"

namespace loamway::test {
namespace {

using testing::ElementsAre;
using testing::UnorderedElementsAre;

std::vector<std::string> all_ends(const RegionData& region, std::int64_t way) {
    std::vector<std::string> result;
    for (const std::uint32_t e : edges_of(region, way))
        result.push_back(ends_of(region, e));
    return result;
}

/// Nodes 1..5 in a row from west to east, 6 and 7 north and south of node 3.
constexpr std::string_view row =
    "n1 x13.200 y53.5\nn2 x13.201 y53.5\nn3 x13.202 y53.5\nn4 x13.203 y53.5\nn5 x13.204 y53.5\n"
    "n6 x13.202 y53.501\nn7 x13.202 y53.499\n";

TEST(SplitRoads, CutsWhereTwoRoadsShareANodeAndNowhereElse) {
    const RegionData r = build_opl(std::string(row) +
                                   "w10 Thighway=track Nn1,n2,n3,n4,n5\n"
                                   "w11 Thighway=service Nn6,n3\n");
    EXPECT_THAT(all_ends(r, 10), UnorderedElementsAre("1-3", "3-5"));
    EXPECT_THAT(all_ends(r, 11), UnorderedElementsAre("6-3"));
    EXPECT_EQ(r.node_osm.size(), 4u);
    EXPECT_EQ(node_of(r, 2), -1);
    EXPECT_EQ(r.arcs.size(), 6u);
}

TEST(SplitRoads, DoesNotCutAtARoadThatNobodyDrives) {
    const RegionData r = build_opl(std::string(row) +
                                   "w10 Thighway=track Nn1,n2,n3,n4,n5\n"
                                   "w11 Thighway=steps Nn6,n3\n"
                                   "w12 Tbarrier=fence Nn7,n3\n");
    EXPECT_THAT(all_ends(r, 10), ElementsAre("1-5"));
    EXPECT_EQ(r.edges.size(), 1u);
}

TEST(SplitRoads, CutsARoadWhereItCrossesItself) {
    const RegionData r = build_opl(std::string(row) + "w10 Thighway=track Nn1,n3,n5,n6,n3,n7\n");
    EXPECT_THAT(all_ends(r, 10), UnorderedElementsAre("1-3", "3-3", "3-7"));
}

TEST(SplitRoads, GivesARingWithoutJunctionANodeAtItsFirstNode) {
    const RegionData r = build_opl(std::string(row) + "w10 Thighway=track Nn1,n3,n6,n1\n");
    ASSERT_THAT(all_ends(r, 10), ElementsAre("1-1"));
    EXPECT_EQ(r.node_osm.size(), 1u);
    EXPECT_EQ(r.arcs.size(), 2u);
    EXPECT_EQ(r.view().edge_points(EdgeId(0u)).size(), 4u);
}

TEST(SplitRoads, CutsAnOutAndBackRoadAtItsTurn) {
    const RegionData r = build_opl(std::string(row) + "w10 Thighway=track Nn1,n2,n1\n");
    ASSERT_THAT(all_ends(r, 10), ElementsAre("1-1"));
    EXPECT_NEAR(r.edges[0].length_dm, 2 * 663.6, 1.0);
}

TEST(SplitRoads, DropsNodesThatAreRepeatedInARow) {
    const RegionData r = build_opl(std::string(row) + "w10 Thighway=track Nn1,n1,n2,n2,n2,n3\n");
    ASSERT_THAT(all_ends(r, 10), ElementsAre("1-3"));
    EXPECT_EQ(r.view().edge_points(EdgeId(0u)).size(), 3u);
}

TEST(SplitRoads, CutsARoadWhereTheExtractLacksNodesAndCountsIt) {
    const RegionData r = build_opl(std::string(row) + "w10 Thighway=track Nn1,n2,n98,n99,n3,n4,n97\n");
    EXPECT_THAT(all_ends(r, 10), UnorderedElementsAre("1-2", "3-4"));
    EXPECT_EQ(count_of(r.meta.counts, "roads cut where the extract lacks nodes"), 1);
    EXPECT_EQ(count_of(r.meta.counts, "nodes of ways that are not in the extract"), 3);
}

TEST(SplitRoads, LeavesOutAndCountsRoadsOfWhichTooLittleIsThere) {
    const RegionData r = build_opl(std::string(row) +
                                   "w10 Thighway=track Nn1,n2\n"
                                   "w11 Thighway=track N\n"
                                   "w12 Thighway=track Nn3\n"
                                   "w13 Thighway=track Nn4,n4\n"
                                   "w14 Thighway=track Nn5,n99\n");
    EXPECT_EQ(r.edges.size(), 1u);
    EXPECT_EQ(count_of(r.meta.counts, "ways without nodes"), 1);
    EXPECT_EQ(count_of(r.meta.counts, "roads with a single node"), 2);
    EXPECT_EQ(count_of(r.meta.counts, "roads left out for want of nodes"), 1);
    EXPECT_EQ(node_of(r, 3), -1);
}

TEST(SplitRoads, ANodeWithoutAPositionIsAMissingNode) {
    const RegionData r = build_opl(std::string(row) + "n8\nw10 Thighway=track Nn1,n2,n8,n3,n4\n");
    EXPECT_THAT(all_ends(r, 10), UnorderedElementsAre("1-2", "3-4"));
    EXPECT_EQ(count_of(r.meta.counts, "nodes without a position"), 1);
}

TEST(SplitRoads, CutsAtBarriersFordsCrossingsAndLimits) {
    const RegionData r = build_opl(
        "n1 x13.200 y53.5\nn2 Tbarrier=gate,access=private,name=Gate%20%1 x13.201 y53.5\n"
        "n3 Tford=yes x13.202 y53.5\nn4 Trailway=level_crossing x13.203 y53.5\n"
        "n5 Tmaxheight=3.2 x13.204 y53.5\nn6 Thighway=street_lamp x13.205 y53.5\nn7 x13.206 y53.5\n"
        "w10 Thighway=track Nn1,n2,n3,n4,n5,n6,n7\n");
    EXPECT_THAT(all_ends(r, 10), UnorderedElementsAre("1-2", "2-3", "3-4", "4-5", "5-7"));
    ASSERT_EQ(r.node_tags.size(), 4u);
    EXPECT_TRUE(std::ranges::is_sorted(r.node_tags, {}, &NodeTagRecord::node));
    std::vector<std::string> texts;
    for (const NodeTagRecord& n : r.node_tags)
        texts.push_back(tag_text(r, n.tag_set));
    EXPECT_THAT(texts, UnorderedElementsAre("access=private,barrier=gate", "ford=yes",
                                            "railway=level_crossing", "maxheight=3.2"));
}

TEST(SplitRoads, BarriersBesideTheRoadAreNoNodes) {
    const RegionData r = build_opl(std::string(row) +
                                   "n9 Tbarrier=gate x13.2015 y53.5001\n"
                                   "w10 Thighway=track Nn1,n2,n3\n");
    EXPECT_EQ(r.node_osm.size(), 2u);
    EXPECT_TRUE(r.node_tags.empty());
}

TEST(SplitRoads, ReadsNegativeIdsAndFilesInAnyOrder) {
    const std::string sorted =
        "n-1 x13.200 y53.5\nn-2 x13.201 y53.5\nn-3 x13.202 y53.5\nn4 x13.201 y53.501\n"
        "w-10 Thighway=track Nn-1,n-2,n-3\nw11 Thighway=service Nn4,n-2\n";
    const std::string shuffled =
        "w11 Thighway=service Nn4,n-2\nn4 x13.201 y53.501\nw-10 Thighway=track Nn-1,n-2,n-3\n"
        "n-3 x13.202 y53.5\nn-1 x13.200 y53.5\nn-2 x13.201 y53.5\n";
    for (const std::string& text : {sorted, shuffled}) {
        const RegionData r = build_opl(text);
        EXPECT_THAT(all_ends(r, -10), UnorderedElementsAre("-1--2", "-2--3"));
        EXPECT_THAT(all_ends(r, 11), UnorderedElementsAre("4--2"));
    }
}

TEST(SplitRoads, OfObjectsGivenTwiceTheLaterOneStays) {
    const RegionData r = build_opl(
        "n1 x13.0 y50\nn1 x13.200 y53.5\nn2 x13.201 y53.5\n"
        "w10 Thighway=track Nn1,n2\nw10 Thighway=service Nn1,n2\n");
    ASSERT_EQ(r.edges.size(), 1u);
    EXPECT_EQ(tag_text(r, r.edges[0].tag_set), "highway=service");
    EXPECT_EQ(r.node_lat[0], 535000000);
    EXPECT_EQ(count_of(r.meta.counts, "objects given twice"), 2);
}

TEST(SplitRoads, DeletedObjectsAreNotThere) {
    const RegionData r = build_opl(std::string(row) +
                                   "w10 dV Thighway=track Nn1,n2\n"
                                   "w11 dD Thighway=track Nn3,n4\n");
    EXPECT_EQ(r.edges.size(), 1u);
    EXPECT_EQ(count_of(r.meta.counts, "deleted objects"), 1);
}

TEST(SplitRoads, LengthIsTheSumOverAllPointsOnTheEllipsoidInDecimetres) {
    const RegionData r = build_opl(std::string(row) + "w10 Thighway=track Nn1,n6,n5,n7\n");
    Length sum;
    const std::vector<GeoPoint> points = r.view().edge_points(EdgeId(0u));
    ASSERT_EQ(points.size(), 4u);
    for (std::size_t i = 1; i < points.size(); ++i)
        sum += distance(points[i - 1], points[i]);
    EXPECT_EQ(r.edges[0].length_dm, static_cast<std::uint32_t>(std::llround(sum.metres() * 10)));
    EXPECT_EQ(r.arcs[0].length_dm, r.edges[0].length_dm);
}

TEST(SplitRoads, AnEdgeBetweenTwoNodesInOnePlaceIsZeroLong) {
    const RegionData r = build_opl("n1 x13.2 y53.5\nn2 x13.2 y53.5\nw10 Thighway=track Nn1,n2\n");
    ASSERT_EQ(r.edges.size(), 1u);
    EXPECT_EQ(r.edges[0].length_dm, 0u);
    EXPECT_EQ(r.node_osm.size(), 2u);
}

TEST(SplitRoads, TagSetsAreSharedSortedAndWithoutNames) {
    const RegionData r = build_opl(std::string(row) +
                                   "w10 Ttracktype=grade2,name=Mill%20%Lane,highway=track,note=x Nn1,n2\n"
                                   "w11 Thighway=track,tracktype=grade2,ref=F%20%12 Nn2,n3\n"
                                   "w12 Thighway=track,name=,tracktype=grade2 Nn3,n4\n");
    const EdgeRecord& a = r.edges[edge_of(r, 10)];
    const EdgeRecord& b = r.edges[edge_of(r, 11)];
    const EdgeRecord& c = r.edges[edge_of(r, 12)];
    EXPECT_EQ(a.tag_set, b.tag_set);
    EXPECT_EQ(a.tag_set, c.tag_set);
    EXPECT_EQ(tag_text(r, a.tag_set), "highway=track,tracktype=grade2");
    EXPECT_EQ(text_of(r, a.name), "Mill Lane");
    EXPECT_EQ(text_of(r, b.name), "F 12");
    EXPECT_EQ(c.name, 0u);
}

TEST(SplitRoads, FlagsSayBridgeTunnelFordAndSideWay) {
    const RegionData r = build_opl(std::string(row) +
                                   "w10 Thighway=tertiary,bridge=yes Nn1,n2\n"
                                   "w11 Thighway=tertiary,tunnel=yes Nn2,n3\n"
                                   "w12 Thighway=tertiary,ford=yes Nn3,n4\n"
                                   "w13 Thighway=track Nn4,n5\nw14 Thighway=service Nn5,n6\n");
    const auto flags = [&](std::int64_t way) { return r.edges[edge_of(r, way)].flags & ~edge_flag::known; };
    EXPECT_EQ(flags(10), edge_flag::bridge);
    EXPECT_EQ(flags(11), edge_flag::tunnel);
    EXPECT_EQ(flags(12), edge_flag::ford);
    EXPECT_EQ(flags(13), edge_flag::side_way);
    EXPECT_EQ(flags(14), edge_flag::side_way);
}

TEST(SplitRoads, OneWayRoadsKeepBothArcsAndTheirTags) {
    const RegionData r = build_opl(std::string(row) + "w10 Thighway=tertiary,oneway=yes Nn1,n2\n");
    ASSERT_EQ(r.arcs.size(), 2u);
    EXPECT_EQ(tag_text(r, r.edges[0].tag_set), "highway=tertiary,oneway=yes");
    EXPECT_EQ(r.arcs[0].reversed + r.arcs[1].reversed, 1u);
}

TEST(SplitRoads, EdgesAreInTheOrderOfTheirTails) {
    std::string text;
    for (int i = 0; i < 30; ++i)
        text += "n" + std::to_string(i + 1) + " x13." + std::to_string(200 + (i * 7) % 30) + " y53." +
                std::to_string(500 + (i * 11) % 30) + "\n";
    for (int i = 0; i < 29; ++i)
        text += "w" + std::to_string(100 - i) + " Thighway=track Nn" + std::to_string(i + 1) + ",n" +
                std::to_string(30 - i) + "\n";
    const RegionData r = build_opl(text);
    EXPECT_TRUE(std::ranges::is_sorted(r.edges, {}, &EdgeRecord::tail));
    EXPECT_FALSE(nodes_fault(r.view()));
    EXPECT_FALSE(edges_fault(r.view()));
    EXPECT_FALSE(arcs_fault(r.view()));
    EXPECT_FALSE(shapes_fault(r.view()));
}

TEST(SplitRoads, ComponentsAreNumberedByTheirLength) {
    const RegionData r = build_opl(
        // A short pair, a long road of two ways, a road of middling length.
        "n1 x13.2 y53.5\nn2 x13.2001 y53.5\nn3 x13.3 y53.6\nn4 x13.31 y53.6\nn5 x13.32 y53.6\n"
        "n6 x13.4 y53.7\nn7 x13.405 y53.7\n"
        "w10 Thighway=track Nn1,n2\nw11 Thighway=track Nn3,n4\nw12 Thighway=track,oneway=yes Nn5,n4\n"
        "w13 Thighway=track Nn6,n7\n");
    const auto component = [&](std::int64_t n) {
        return r.component[static_cast<std::size_t>(node_of(r, n))];
    };
    EXPECT_EQ(component(3), 0u);
    EXPECT_EQ(component(4), 0u);
    EXPECT_EQ(component(5), 0u);
    EXPECT_EQ(component(6), 1u);
    EXPECT_EQ(component(7), 1u);
    EXPECT_EQ(component(1), 2u);
    EXPECT_EQ(component(2), 2u);
}

TEST(SplitRoads, ARoadWithoutAnyOfItsNodesIsNoRoadAtAll) {
    try {
        (void)build_opl("n1 x13.2 y53.5\nw10 Thighway=track Nn98,n99\n");
        FAIL() << "an extract without a usable road must be refused";
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        EXPECT_THAT(e.what(), testing::HasSubstr("two nodes in the extract"));
    }
}

}  // namespace
}  // namespace loamway::test
