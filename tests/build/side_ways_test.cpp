// SPDX-License-Identifier: Apache-2.0
// Tracks that a machine pulls into beside the road: which mouths are offered, how far in, and with what to
// ask.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "opl_map.h"
#include "stop_place_maps.h"

namespace loamway::test {
namespace {

/// A road from west to east and a track to the north from its middle node.
struct RoadWithTrack {
    OplMap map;
    std::int64_t mouth, end, road, track;

    explicit RoadWithTrack(std::string_view track_tags = "highway=track,tracktype=grade3",
                           double length_m = 300, std::string_view road_tags = country_road) {
        mouth = map.node(0, 0);
        end = map.node(0, length_m);
        road = map.way({map.node(-1000, 0), mouth, map.node(1000, 0)}, road_tags);
        track = map.way({mouth, end}, track_tags);
    }
};

TEST(SideWays, TheMouthOfATrackIsOffered) {
    RoadWithTrack m;
    const RegionData r = build(m.map);
    const auto found = places(r, StopPlaceKind::side_way);
    ASSERT_EQ(found.size(), 1u);
    const StopPlaceRecord& s = found[0];
    EXPECT_EQ(s.edge, edge_of(r, m.track));
    EXPECT_EQ(s.offset_dm, 0u);
    EXPECT_EQ(s.usable_dm, 1500u);
    EXPECT_EQ(s.score, 5);
    EXPECT_EQ(text_of(r, s.reason), "mouth of a side way +4, gravel or earth ground +1");
    EXPECT_EQ(s.osm_id, m.track);
    EXPECT_EQ(s.flags, stop_flag::soft_ground | stop_flag::dead_end);
    EXPECT_NEAR(distance({s.lat_e7, s.lon_e7}, GeoPoint{535000000, 132000000}).metres(), 20.0, 0.5);
}

TEST(SideWays, ATrackDrawnTowardsTheRoadIsEnteredAtItsHead) {
    OplMap map;
    const auto mouth = map.node(0, 0);
    map.way({map.node(-1000, 0), mouth, map.node(1000, 0)}, country_road);
    const auto track = map.way({map.node(0, 80), mouth}, "highway=track,surface=ground");
    const RegionData r = build(map);
    const auto found = places(r, StopPlaceKind::side_way);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].offset_dm, r.edges[edge_of(r, track)].length_dm);
    EXPECT_NEAR(found[0].usable_dm, 800, 2);
}

TEST(SideWays, BothEndsOfATrackBetweenTwoRoadsAndBothSidesOfOneThatCrosses) {
    OplMap map;
    const auto south = map.node(0, 0), north = map.node(0, 400);
    map.way({map.node(-1000, 0), south, map.node(1000, 0)}, country_road);
    map.way({map.node(-1000, 400), north, map.node(1000, 400)}, country_road);
    map.way({map.node(0, -300), south, north}, "highway=track,tracktype=grade4");
    const auto found = places(build(map), StopPlaceKind::side_way);
    ASSERT_EQ(found.size(), 3u);
    int dead_ends = 0;
    for (const StopPlaceRecord& s : found)
        dead_ends += has(s, stop_flag::dead_end) ? 1 : 0;
    EXPECT_EQ(dead_ends, 1) << "only the piece to the south cannot be driven through";
}

TEST(SideWays, ComingOutAtTheSameMouthIsDrivingThrough) {
    OplMap map;
    const auto mouth = map.node(0, 0);
    map.way({map.node(-1000, 0), mouth, map.node(1000, 0)}, country_road);
    map.way({mouth, map.node(0, 100), map.node(60, 100), map.node(60, 30), mouth},
            "highway=track,tracktype=grade3");
    for (const StopPlaceRecord& s : places(build(map), StopPlaceKind::side_way))
        EXPECT_FALSE(has(s, stop_flag::dead_end));
}

TEST(SideWays, OnlyGravelAndEarthCount) {
    for (const auto& [tags, expected] :
         {std::pair("highway=service,surface=asphalt", 0u), std::pair("highway=service,surface=gravel", 1u),
          std::pair("highway=track,surface=concrete", 0u), std::pair("highway=track", 1u),
          std::pair("highway=unclassified,surface=gravel", 0u)})
        EXPECT_EQ(build(RoadWithTrack(tags).map).stop_places.size(), expected) << tags;
}

TEST(SideWays, ATrackThatGoesOnWhereTheRoadEndsIsNoSideWay) {
    OplMap map;
    const auto end = map.node(0, 0);
    map.way({map.node(-1000, 0), end}, country_road);
    map.way({end, map.node(500, 0)}, "highway=track,tracktype=grade3");
    EXPECT_TRUE(build(map).stop_places.empty());
}

TEST(SideWays, ATrackOffATrackIsAMouthButTheOneThatRunsOnIsNot) {
    OplMap map;
    const auto fork = map.node(0, 0);
    map.way({map.node(-500, 0), fork, map.node(500, 0)}, "highway=track,tracktype=grade2");
    const auto branch = map.way({fork, map.node(0, 200)}, "highway=track,tracktype=grade4");
    const RegionData r = build(map);
    const auto found = places(r, StopPlaceKind::side_way);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].edge, edge_of(r, branch));
}

TEST(SideWays, FollowedOverNodesWhereTheWayGoesOn) {
    RoadWithTrack m("highway=track,tracktype=grade3", 60);
    m.map.way({m.end, m.map.node(0, 110)}, "highway=track,tracktype=grade3,name=On");
    EXPECT_NEAR(places(build(m.map), StopPlaceKind::side_way).at(0).usable_dm, 1100, 3);
    RoadWithTrack fork("highway=track,tracktype=grade3", 60);
    fork.map.way({fork.end, fork.map.node(50, 110)}, "highway=track,tracktype=grade3");
    fork.map.way({fork.end, fork.map.node(-50, 110)}, "highway=track,tracktype=grade3");
    const RegionData r = build(fork.map);
    int seen = 0;
    for (const StopPlaceRecord& s : places(r, StopPlaceKind::side_way)) {
        if (s.edge != edge_of(r, fork.track) || s.offset_dm != 0)
            continue;
        ++seen;
        EXPECT_NEAR(s.usable_dm, 600, 3);
    }
    EXPECT_EQ(seen, 1);
    RoadWithTrack other("highway=track,tracktype=grade3", 60);
    other.map.way({other.end, other.map.node(0, 110)}, "highway=service,surface=gravel");
    EXPECT_NEAR(places(build(other.map), StopPlaceKind::side_way).at(0).usable_dm, 600, 3);
}

TEST(SideWays, TooShortToStandIn) {
    EXPECT_TRUE(build(RoadWithTrack("highway=track,tracktype=grade3", 14).map).stop_places.empty());
    EXPECT_EQ(build(RoadWithTrack("highway=track,tracktype=grade3", 16).map).stop_places.size(), 1u);
}

TEST(SideWays, PrivateGroundAndDrivewaysNeedPermission) {
    for (const char* tags : {"highway=track,tracktype=grade3,access=private",
                             "highway=track,tracktype=grade3,motor_vehicle=private",
                             "highway=service,service=driveway,surface=gravel"}) {
        const auto found = places(build(RoadWithTrack(tags).map), StopPlaceKind::side_way);
        ASSERT_EQ(found.size(), 1u) << tags;
        EXPECT_TRUE(has(found[0], stop_flag::ask_permission)) << tags;
    }
    const auto open =
        places(build(RoadWithTrack("highway=track,tracktype=grade3,motor_vehicle=agricultural").map),
               StopPlaceKind::side_way);
    ASSERT_EQ(open.size(), 1u);
}

TEST(SideWays, ClosedOnesAreNotOffered) {
    for (const char* tags : {"highway=track,tracktype=grade3,motor_vehicle=no,agricultural=no,hgv=yes",
                             "highway=service,service=parking_aisle,surface=gravel",
                             "highway=service,service=emergency_access,surface=gravel",
                             "highway=service,service=alley,surface=gravel"})
        EXPECT_TRUE(build(RoadWithTrack(tags).map).stop_places.empty()) << tags;
}

/// A track with a node of its own 60 m in.
RegionData with_gate(std::string_view gate, double at_m = 60) {
    OplMap map;
    const auto mouth = map.node(0, 0);
    const auto g = map.node(0, at_m, gate);
    map.way({map.node(-1000, 0), mouth, map.node(1000, 0)}, country_road);
    map.way({mouth, g, map.node(0, 300)}, "highway=track,tracktype=grade3");
    return build(map);
}

TEST(SideWays, GatesAskAndLockedOnesEndTheWay) {
    const auto gate = places(with_gate("barrier=gate"), StopPlaceKind::side_way);
    ASSERT_EQ(gate.size(), 1u);
    EXPECT_TRUE(has(gate[0], stop_flag::ask_permission));
    EXPECT_EQ(gate[0].usable_dm, 1500u);
    for (const char* shut : {"barrier=gate,access=private", "barrier=gate,access=no", "barrier=bollard",
                             "barrier=gate,locked=yes", "ford=yes"}) {
        const auto found = places(with_gate(shut), StopPlaceKind::side_way);
        ASSERT_EQ(found.size(), 1u) << shut;
        EXPECT_NEAR(found[0].usable_dm, 600, 2) << shut;
        EXPECT_TRUE(places(with_gate(shut, 10), StopPlaceKind::side_way).empty())
            << shut << " near the mouth";
    }
}

TEST(SideWays, AGateAtTheMouthItself) {
    const auto at_mouth = [](std::string_view gate) {
        OplMap map;
        const auto mouth = map.node(0, 0, gate);
        map.way({map.node(-1000, 0), mouth, map.node(1000, 0)}, country_road);
        map.way({mouth, map.node(0, 300)}, "highway=track,tracktype=grade3");
        return places(build(map), StopPlaceKind::side_way);
    };
    ASSERT_EQ(at_mouth("barrier=gate").size(), 1u);
    EXPECT_TRUE(has(at_mouth("barrier=gate")[0], stop_flag::ask_permission));
    EXPECT_TRUE(at_mouth("barrier=gate,access=private").empty());
    EXPECT_TRUE(at_mouth("barrier=bollard").empty());
}

TEST(SideWays, OneWayTracksAreEnteredTheRightWayRound) {
    EXPECT_EQ(build(RoadWithTrack("highway=track,tracktype=grade3,oneway=-1").map).stop_places.size(), 0u)
        << "leads out only";
    EXPECT_EQ(build(RoadWithTrack("highway=track,tracktype=grade3,oneway=yes").map).stop_places.size(), 0u)
        << "leads in and never out";
}

TEST(SideWays, JunctionsAndBendsDoNotCountThere) {
    OplMap map;
    const auto mouth = map.node(0, 0);
    map.way({map.node(-1000, 0), mouth, map.node(1000, 0)}, country_road);
    map.way({mouth, map.node(5, -500)}, "highway=unclassified");
    map.way({mouth, map.node(0, 12), map.node(12, 14), map.node(12, 200)}, "highway=track,tracktype=grade3");
    EXPECT_EQ(places(build(map), StopPlaceKind::side_way).size(), 1u);
}

TEST(SideWays, LeftOutByWhatLiesAround) {
    const auto without = [](std::string_view why, auto draw) {
        RoadWithTrack m;
        draw(m.map);
        const RegionData r = build(m.map);
        EXPECT_TRUE(r.stop_places.empty()) << why;
        EXPECT_EQ(count_of(r.meta.counts, "stop places left out: " + std::string(why)), 1) << why;
    };
    without("within 50 m of a building", [](OplMap& m) { m.box(20, 20, 40, 40, "building=house"); });
    without("in a residential area", [](OplMap& m) { m.box(-90, -90, 90, 90, "landuse=residential"); });
    without("within 20 m of a power line", [](OplMap& m) {
        m.way({m.node(-90, 20), m.node(90, 20)}, "power=line");
    });
    without("within 25 m of water, wetland or a protection area", [](OplMap& m) {
        m.way({m.node(20, -90), m.node(20, 90)}, "waterway=stream");
    });
    const auto by_track = [](std::string_view why, std::string_view tags) {
        const RegionData r = build(RoadWithTrack(tags).map);
        EXPECT_TRUE(r.stop_places.empty()) << why;
        EXPECT_EQ(count_of(r.meta.counts, "stop places left out: " + std::string(why)), 1) << why;
    };
    by_track("steeper than 6 %", "highway=track,surface=gravel,incline=9%25%");
    by_track("on a bridge, in a tunnel or covered", "highway=track,surface=gravel,tunnel=yes");
    const RegionData trunk = build(RoadWithTrack("highway=track,tracktype=grade3", 300, "highway=trunk").map);
    EXPECT_TRUE(trunk.stop_places.empty());
    EXPECT_EQ(count_of(trunk.meta.counts, "stop places left out: motorway, trunk road or motorroad"), 1);
    OplMap rails;
    const auto mouth = rails.node(0, 0);
    rails.way(
        {rails.node(-1000, 0), rails.node(-45, 0, "railway=level_crossing"), mouth, rails.node(1000, 0)},
        country_road);
    rails.way({mouth, rails.node(0, 300)}, "highway=track,tracktype=grade3");
    EXPECT_TRUE(build(rails).stop_places.empty());
}

// Once the facts of one road were read after the table had moved to make room for those of the next, and a
// mouth could get another road's flags. Every track here has tags of its own, so that the table grows.
TEST(SideWays, KeepTheirOwnFactsAmongManyDifferentRoads) {
    OplMap map;
    std::vector<std::int64_t> road{map.node(-500, 0)};
    std::vector<std::int64_t> tracks;
    for (int i = 0; i < 60; ++i) {
        road.push_back(map.node(i * 100, 0));
        tracks.push_back(map.way({road.back(), map.node(i * 100, 200)},
                                 "highway=track,tracktype=grade3,width=" + std::to_string(i + 2) +
                                     (i % 2 == 1 ? ",access=private" : "") +
                                     (i % 3 == 2 ? ",incline=9%25%" : "")));
    }
    road.push_back(map.node(6500, 0));
    map.way(road, country_road);
    std::vector<std::int64_t> offered;
    for (const StopPlaceRecord& s : places(build(map), StopPlaceKind::side_way)) {
        offered.push_back(s.osm_id);
        const auto i = std::ranges::find(tracks, s.osm_id) - tracks.begin();
        EXPECT_EQ(has(s, stop_flag::ask_permission), i % 2 == 1) << i;
        EXPECT_NE(i % 3, 2) << i;
    }
    EXPECT_EQ(offered.size(), 40u);
}

}  // namespace
}  // namespace loamway::test
