// SPDX-License-Identifier: Apache-2.0
// Turn restrictions from ways to edges.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "../../src/region/check.h"
#include "opl_map.h"

namespace loamway::test {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::UnorderedElementsAre;

/// A record as "no 1-3 3-6 at 3": its edges by the OSM ids of their ends, and the node between the first two.
std::vector<std::string> records(const RegionData& r) {
    EXPECT_FALSE(restrictions_fault(r.view()));
    std::vector<std::string> result;
    for (const RestrictionRecord& record : r.restrictions) {
        std::string text = record.only != 0 ? "only" : "no";
        for (std::uint32_t i = 0; i < record.edge_count; ++i)
            text += " " + ends_of(r, r.restriction_edges[record.edge_first + i]);
        result.push_back(text + " at " + std::to_string(r.node_osm[record.via_node]));
    }
    return result;
}

/// A crossing: node 3 in the middle, 1 west, 5 east, 6 north, 7 south. Way 10 comes from the west, 12 leaves
/// to the east, 11 to the north, 13 to the south; way 20 runs through from north (8) to south (9) further
/// west.
constexpr std::string_view crossing =
    "n1 x13.200 y53.5\nn3 x13.202 y53.5\nn5 x13.204 y53.5\nn6 x13.202 y53.501\nn7 x13.202 y53.499\n"
    "w10 Thighway=tertiary Nn1,n3\nw11 Thighway=tertiary Nn3,n6\nw12 Thighway=tertiary Nn3,n5\n"
    "w13 Thighway=tertiary Nn3,n7\n";

/// The same with one way from north to south through the node.
constexpr std::string_view through =
    "n1 x13.200 y53.5\nn3 x13.202 y53.5\nn5 x13.204 y53.5\nn6 x13.202 y53.501\nn7 x13.202 y53.499\n"
    "w10 Thighway=tertiary Nn1,n3\nw12 Thighway=tertiary Nn3,n5\nw20 Thighway=tertiary Nn6,n3,n7\n";

constexpr std::string_view not_met =
    "turn restrictions with members that do not meet or are not in the extract";

RegionData with(std::string_view map, std::string_view relations) {
    return build_opl(std::string(map) + std::string(relations));
}

TEST(Restrictions, ViaANodeJoinTheTwoEdgesThatTouchIt) {
    const RegionData r =
        with(crossing,
             "r1 Ttype=restriction,restriction=no_left_turn,except=hgv,name=x Mw10@from,n3@via,w11@to\n");
    EXPECT_THAT(records(r), ElementsAre("no 1-3 3-6 at 3"));
    EXPECT_EQ(tag_text(r, r.restrictions[0].tag_set), "except=hgv,restriction=no_left_turn,type=restriction");
}

TEST(Restrictions, OnlyKeepsItsWord) {
    const RegionData r =
        with(crossing, "r1 Ttype=restriction,restriction=only_straight_on Mw10@from,n3@via,w12@to\n");
    EXPECT_THAT(records(r), ElementsAre("only 1-3 3-5 at 3"));
}

TEST(Restrictions, ForOneVehicleAndConditionalAreKeptWithTheirTags) {
    const RegionData r = with(crossing,
                              "r1 Ttype=restriction,restriction:hgv=no_right_turn Mw10@from,n3@via,w13@to\n"
                              "r2 Ttype=restriction:hgv,restriction=no_left_turn Mw10@from,n3@via,w11@to\n"
                              "r3 Ttype=restriction,restriction:conditional=no_left_turn%20%@%20%(Mo-Fr) "
                              "Mw12@from,n3@via,w11@to\n");
    EXPECT_THAT(records(r), ElementsAre("no 1-3 3-7 at 3", "no 1-3 3-6 at 3", "no 3-5 3-6 at 3"));
    EXPECT_EQ(tag_text(r, r.restrictions[1].tag_set), "restriction=no_left_turn,type=restriction:hgv");
    EXPECT_EQ(tag_text(r, r.restrictions[2].tag_set),
              "restriction:conditional=no_left_turn @ (Mo-Fr),type=restriction");
}

TEST(Restrictions, TheViaNodeBecomesAGraphNodeWhereOnlyTwoWaysMeetInAWay) {
    // The to-way begins at the via node; the from-way runs on through it.
    const RegionData r =
        with(through, "r1 Ttype=restriction,restriction=no_left_turn Mw20@from,n3@via,w12@to\n");
    EXPECT_THAT(records(r), UnorderedElementsAre("no 6-3 3-5 at 3", "no 3-7 3-5 at 3"));
}

TEST(Restrictions, AViaNodeInsideASingleRoadCutsIt) {
    const RegionData r = build_opl(
        "n1 x13.200 y53.5\nn2 x13.201 y53.5\nn3 x13.202 y53.5\nw10 Thighway=track Nn1,n2,n3\n"
        "r1 Ttype=restriction,restriction=no_u_turn Mw10@from,n2@via,w10@to\n");
    EXPECT_THAT(records(r), UnorderedElementsAre("no 1-2 1-2 at 2", "no 2-3 2-3 at 2"));
}

TEST(Restrictions, ATurnWithinOneWayGoesFromOnePieceToTheOther) {
    const RegionData r =
        with(through, "r1 Ttype=restriction,restriction=no_straight_on Mw20@from,n3@via,w20@to\n");
    EXPECT_THAT(records(r), UnorderedElementsAre("no 6-3 3-7 at 3", "no 3-7 6-3 at 3"));
}

TEST(Restrictions, NoClosesEveryPieceThatTouchesTheViaNode) {
    const RegionData r =
        with(through, "r1 Ttype=restriction,restriction=no_left_turn Mw10@from,n3@via,w20@to\n");
    EXPECT_THAT(records(r), UnorderedElementsAre("no 1-3 6-3 at 3", "no 1-3 3-7 at 3"));
}

TEST(Restrictions, OnlyTakesThePieceThatItsNameSays) {
    const auto only = [](std::string_view kind) {
        return records(with(
            through, "r1 Ttype=restriction,restriction=" + std::string(kind) + " Mw10@from,n3@via,w20@to\n"));
    };
    // Coming from the west, north is to the left and south to the right.
    EXPECT_THAT(only("only_left_turn"), ElementsAre("only 1-3 6-3 at 3"));
    EXPECT_THAT(only("only_right_turn"), ElementsAre("only 1-3 3-7 at 3"));
}

TEST(Restrictions, OnlyFromAWayThatRunsThroughTakesTheSideThatFits) {
    // To the east: a left turn for who comes from the north, a right turn for who comes from the south.
    EXPECT_THAT(
        records(with(through, "r1 Ttype=restriction,restriction=only_left_turn Mw20@from,n3@via,w12@to\n")),
        ElementsAre("only 6-3 3-5 at 3"));
    EXPECT_THAT(
        records(with(through, "r1 Ttype=restriction,restriction=only_right_turn Mw20@from,n3@via,w12@to\n")),
        ElementsAre("only 3-7 3-5 at 3"));
}

TEST(Restrictions, NoEntryFromSeveralAndNoExitToSeveral) {
    const RegionData r = with(crossing,
                              "r1 Ttype=restriction,restriction=no_entry Mw10@from,w11@from,n3@via,w12@to\n"
                              "r2 Ttype=restriction,restriction=no_exit Mw10@from,n3@via,w11@to,w13@to\n");
    EXPECT_THAT(records(r), UnorderedElementsAre("no 1-3 3-5 at 3", "no 3-6 3-5 at 3", "no 1-3 3-6 at 3",
                                                 "no 1-3 3-7 at 3"));
}

/// A dual carriageway: 10 to the east (1-2-3), 11 back to the west (4-5-6), joined by link 12 (2-5) which a
/// service road (7) cuts in two.
constexpr std::string_view dual =
    "n1 x13.200 y53.5\nn2 x13.202 y53.5\nn3 x13.204 y53.5\nn4 x13.204 y53.5002\nn5 x13.202 y53.5002\n"
    "n6 x13.200 y53.5002\nn7 x13.202 y53.5001\nn8 x13.2025 y53.5001\n"
    "w10 Thighway=primary,oneway=yes Nn1,n2\nw14 Thighway=primary,oneway=yes Nn2,n3\n"
    "w11 Thighway=primary,oneway=yes Nn4,n5\nw15 Thighway=primary,oneway=yes Nn5,n6\n"
    "w12 Thighway=primary_link Nn2,n7,n5\nw13 Thighway=service Nn7,n8\n";

TEST(Restrictions, ViaAWayGoAlongAllOfItsEdges) {
    const RegionData r = with(dual, "r1 Ttype=restriction,restriction=no_u_turn Mw10@from,w12@via,w15@to\n");
    EXPECT_THAT(records(r), ElementsAre("no 1-2 2-7 7-5 5-6 at 2"));
}

TEST(Restrictions, ViaAWayDrawnTheOtherWayRoundAndMembersInAnyOrder) {
    std::string map(dual);
    map.replace(map.find("Nn2,n7,n5"), 9, "Nn5,n7,n2");
    const RegionData r = with(map, "r1 Ttype=restriction,restriction=no_u_turn Mw15@to,w12@via,w10@from\n");
    EXPECT_THAT(records(r), ElementsAre("no 1-2 7-2 5-7 5-6 at 2"));
}

TEST(Restrictions, ViaSeveralWays) {
    std::string map(dual);
    map.replace(map.find("w12 Thighway=primary_link Nn2,n7,n5"), 35,
                "w12 Thighway=primary_link Nn2,n7\nw16 Thighway=primary_link Nn7,n5");
    const RegionData r =
        with(map, "r1 Ttype=restriction,restriction=no_u_turn Mw10@from,w16@via,w12@via,w15@to\n");
    EXPECT_THAT(records(r), ElementsAre("no 1-2 2-7 7-5 5-6 at 2"));
}

TEST(Restrictions, OnlyViaAWay) {
    const RegionData r =
        with(dual, "r1 Ttype=restriction,restriction=only_u_turn Mw10@from,w12@via,w15@to\n");
    EXPECT_THAT(records(r), ElementsAre("only 1-2 2-7 7-5 5-6 at 2"));
}

TEST(Restrictions, IncompleteOnesAreCountedAndLeftOut) {
    const RegionData r =
        with(crossing,
             "r1 Ttype=restriction,restriction=no_left_turn Mw10@from,w11@to\n"
             "r2 Ttype=restriction,restriction=no_left_turn Mn3@via,w11@to\n"
             "r3 Ttype=restriction,restriction=no_left_turn Mw10@from,n3@via,w999@to\n"
             "r4 Ttype=restriction,restriction=no_left_turn Mw10@from,n1@via,w11@to\n"
             "r5 Ttype=restriction,restriction=no_left_turn Mw10@from,n999@via,w11@to\n"
             "r6 Ttype=restriction,restriction=no_left_turn Mw10@from,w999@via,w11@to\n"
             "r7 Ttype=restriction,restriction=give_way Mw10@from,n3@via,w11@to\n"
             "r8 Ttype=restriction Mw10@from,n3@via,w11@to\n"
             "r9 Ttype=restriction,restriction=only_left_turn Mw10@from,n3@via,w11@to,w12@to\n"
             "r10 Ttype=restriction,restriction=no_left_turn M\n"
             "r11 Ttype=restriction,restriction=no_left_turn Mw10@from,n3@via,r10@to\n");
    EXPECT_THAT(records(r), IsEmpty());
    EXPECT_EQ(count_of(r.meta.counts, "turn restrictions without from, via or to"), 4);
    EXPECT_EQ(count_of(r.meta.counts, not_met), 4);
    EXPECT_EQ(count_of(r.meta.counts, "turn restrictions of an unknown kind"), 2);
    EXPECT_EQ(count_of(r.meta.counts, "turn restrictions with contradicting members"), 1);
}

TEST(Restrictions, MembersThatAreNoRoadsAreCounted) {
    const RegionData r = build_opl(std::string(crossing) +
                                   "n8 x13.203 y53.501\nw30 Thighway=footway Nn3,n8\n"
                                   "r1 Ttype=restriction,restriction=no_left_turn Mw10@from,n3@via,w30@to\n");
    EXPECT_THAT(records(r), IsEmpty());
    EXPECT_EQ(count_of(r.meta.counts, not_met), 1);
}

}  // namespace
}  // namespace loamway::test
