// SPDX-License-Identifier: Apache-2.0
// How a place to stop is found, and where one can turn round before a doubt.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loamway/base/file.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

constexpr double km_east = 1000.0 / 66200.0;

/// A gravel road of 20 km in pieces of 1 km, from west to east, with a lay-by on the right 12.5 km from its
/// start.
struct Road {
    Road() {
        for (int i = 0; i <= 20; ++i)
            nodes.push_back(map.node(53.5, 13.0 + i * km_east));
    }
    void pave() {
        for (int i = 0; i < 20; ++i) {
            TinyEdge e;
            e.tags = {{"highway", "unclassified"}};
            e.length_dm = 10000;
            if (i == bridge) {
                e.flags = edge_flag::bridge;
                e.tags = {{"highway", "unclassified"}, {"bridge", "yes"}};
            }
            edges.push_back(
                map.road(nodes[static_cast<std::size_t>(i)], nodes[static_cast<std::size_t>(i) + 1], e));
        }
        TinyStop s;
        s.edge = edges[12];
        s.offset_dm = 5000;
        s.kind = StopPlaceKind::lay_by;
        s.flags = stop_flag::right_forward;
        map.stop_place(s);
    }
    Option plan() {
        region = std::make_unique<Region>(Region::from_data(map.build()));
        PlanInputs in;
        in.region = region.get();
        in.from = {"Barn", map.point(nodes.front())};
        in.to = {"Field", map.point(nodes.back())};
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
        in.haul = false;
        return make_plan(in).options.front();
    }
    std::string find_it() {
        const Option o = plan();
        return o.stops.empty() ? "no stop" : o.stops.front().how_to_find;
    }
    int bridge = -1;
    TinyMap map;
    std::vector<NodeId> nodes;
    std::vector<EdgeId> edges;
    std::unique_ptr<Region> region;
};

TEST(Landmarks, TheNearestThingPassedBeforeThePlace) {
    Road bridge;
    bridge.bridge = 11;
    bridge.pave();
    EXPECT_EQ(bridge.find_it(), "lay-by, right, 500 m after the bridge");
    Road crossing;
    crossing.pave();
    crossing.map.node_tags(crossing.nodes[11], {{"railway", "level_crossing"}});
    EXPECT_EQ(crossing.find_it(), "lay-by, right, 1.5 km after the level crossing");
    Road junction;
    junction.bridge = 10;
    junction.pave();
    TinyEdge lane;
    lane.name = "Mill Lane";
    junction.map.road(junction.nodes[12], junction.map.node(53.51, 13.0 + 12 * km_east), lane);
    EXPECT_EQ(junction.find_it(), "lay-by, right, 500 m after the junction with Mill Lane");
    Road village;
    village.pave();
    village.map.place("Oakley", 53.501, 13.0 + 11 * km_east);
    EXPECT_EQ(village.find_it(), "lay-by, right, 1.5 km after Oakley");
}

TEST(Landmarks, WhatLiesFarBackOrAheadHelpsNobody) {
    Road far;
    far.bridge = 8;
    far.pave();
    EXPECT_THAT(far.find_it(), HasSubstr("12.5 km after \"Start east"));
    Road ahead;
    ahead.bridge = 12;
    ahead.pave();
    EXPECT_THAT(ahead.find_it(), HasSubstr("12.5 km after \"Start east"));
}

TEST(Landmarks, ASideWayIsNotFoundByItself) {
    Road road;
    road.bridge = 9;
    road.pave();
    TinyEdge lane;
    lane.name = "Mill Lane";
    const EdgeId in = road.map.road(road.nodes[13], road.map.node(53.505, 13.0 + 13 * km_east), lane);
    TinyStop s;
    s.edge = in;
    s.kind = StopPlaceKind::side_way;
    s.flags = stop_flag::soft_ground;
    s.usable_dm = 1500;
    s.score = 9;
    road.map.stop_place(s);
    EXPECT_THAT(road.find_it(), StartsWith("mouth of Mill Lane, left, 3.0 km after the bridge; drive in "));
}

TEST(LastPlaceToTurn, IsTheLastMouthOrYardBeforeTheDoubt) {
    Road road;
    road.bridge = 8;  // without a posted mass: somebody has to look
    road.pave();
    const auto at = [&] {
        const Option o = road.plan();
        for (const Flag& f : o.flags)
            if (f.kind == "bridge")
                return f.last_turn_round_m;
        ADD_FAILURE() << "no flag for the bridge";
        return std::optional<double>();
    };
    EXPECT_FALSE(at()) << "nowhere";
    TinyStop yard;
    yard.edge = road.edges[3];
    yard.offset_dm = 2000;
    yard.kind = StopPlaceKind::yard;
    road.map.stop_place(yard);
    ASSERT_TRUE(at());
    EXPECT_NEAR(*at(), 3200, 0.1);
    TinyEdge track;
    TinyStop mouth;
    mouth.edge = road.map.road(road.nodes[6], road.map.node(53.505, 13.0 + 6 * km_east), track);
    mouth.kind = StopPlaceKind::side_way;
    mouth.flags = stop_flag::soft_ground;
    mouth.usable_dm = 1500;
    road.map.stop_place(mouth);
    EXPECT_NEAR(*at(), 6000, 0.1);
    yard.edge = road.edges[9];  // behind the bridge
    road.map.stop_place(yard);
    EXPECT_NEAR(*at(), 6000, 0.1);
}

}  // namespace
}  // namespace loamway
