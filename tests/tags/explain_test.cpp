// SPDX-License-Identifier: Apache-2.0
#include "loamway/tags/explain.h"

#include <gtest/gtest.h>

#include "support/tag_samples.h"

namespace loamway {
namespace {

TagExplanation explain(const TagView& tags) {
    return explain_tags(tags, test::sample_machine(), test::sample_truck(), test::sample_moment());
}

TEST(Explain, OneRoad) {
    const TagExplanation e = explain({{"highway", "track"},
                                      {"tracktype", "grade2"},
                                      {"oneway", "yes"},
                                      {"maxheight", "3.5"},
                                      {"maxspeed", "30"},
                                      {"bridge", "yes"},
                                      {"name", "Mill Lane"}});
    EXPECT_TRUE(e.drivable);
    EXPECT_EQ(e.surface.source, "tracktype");
    EXPECT_EQ(e.machine.oneway, OneWay::forward);
    EXPECT_EQ(e.machine.forward.access.passage, Passage::allow);
    EXPECT_EQ(e.machine.forward.passage, Passage::deny);  // too high
    EXPECT_EQ(e.machine.backward.access.passage, Passage::deny);
    EXPECT_EQ(e.truck.forward.access.reason, "default:track=check");
    ASSERT_TRUE(e.machine.forward.speed);
    EXPECT_NEAR(e.machine.forward.speed->kmh(), 30.0, 1e-9);
    ASSERT_EQ(e.numbers.size(), 2u);
    EXPECT_EQ(e.numbers[0].key, "maxheight");
    EXPECT_EQ(e.numbers[0].unit, "m");
    EXPECT_DOUBLE_EQ(e.numbers[0].reading.value.value(), 3.5);
    EXPECT_EQ(e.numbers[1].unit, "km/h");
    EXPECT_TRUE(e.bridge);
    EXPECT_EQ(e.notes.size(), 1u);  // no weight posted on the bridge
    EXPECT_EQ(e.unread, std::vector<std::string>{"name"});
    EXPECT_FALSE(e.machine.barrier);
    EXPECT_FALSE(e.machine.restriction);
}

TEST(Explain, BuiltUpSurfaceStandsBesideTheOther) {
    const TagExplanation e = explain({{"highway", "unclassified"}});
    EXPECT_DOUBLE_EQ(e.surface.p_hard, 0.65);
    EXPECT_DOUBLE_EQ(e.surface_built_up.p_hard, 0.92);
}

TEST(Explain, NodesAndRelations) {
    const TagExplanation gate = explain({{"barrier", "gate"}, {"locked", "yes"}, {"maxweight", "7.5"}});
    ASSERT_TRUE(gate.machine.barrier);
    EXPECT_EQ(gate.machine.barrier->state, BarrierReading::State::block);
    EXPECT_FALSE(gate.drivable);
    const TagExplanation turn =
        explain({{"type", "restriction"}, {"restriction:hgv", "no_left_turn"}, {"except", "psv"}});
    ASSERT_TRUE(turn.truck.restriction);
    EXPECT_TRUE(turn.truck.restriction->applies);
    EXPECT_FALSE(turn.machine.restriction->applies);
    EXPECT_TRUE(turn.unread.empty());
}

TEST(Explain, Notes) {
    EXPECT_EQ(explain({{"highway", "track"}, {"ford", "yes"}}).notes.size(), 1u);
    EXPECT_EQ(explain({{"railway", "level_crossing"}}).notes.size(), 1u);
    EXPECT_EQ(explain({{"highway", "track"}, {"tunnel", "culvert"}}).notes.size(), 1u);
    EXPECT_EQ(explain({{"highway", "track"}, {"tunnel", "yes"}}).notes.size(), 1u);
    EXPECT_EQ(explain({{"highway", "track"}, {"tunnel", "yes"}, {"maxheight", "4"}}).notes.size(), 0u);
    EXPECT_EQ(explain({{"highway", "track"}, {"bridge", "yes"}, {"maxweight", "40"}}).notes.size(), 0u);
    EXPECT_EQ(explain({{"route", "ferry"}}).notes.size(), 1u);
}

TEST(Explain, UnreadKeys) {
    EXPECT_EQ(explain({{"highwya", "track"}, {"lanes", "2"}, {"maxspeed:source", "sign"}}).unread,
              (std::vector<std::string>{"highwya", "lanes", "maxspeed:source"}));
}

TEST(TagViewKeys, WhatARegionKeeps) {
    for (const char* key : {"highway",
                            "service",
                            "junction",
                            "surface",
                            "tracktype",
                            "smoothness",
                            "motorroad",
                            "bridge",
                            "tunnel",
                            "covered",
                            "ford",
                            "lit",
                            "winter_road",
                            "ice_road",
                            "route",
                            "access",
                            "motor_vehicle:conditional",
                            "vehicle:backward",
                            "hgv:forward:conditional",
                            "agricultural",
                            "oneway",
                            "oneway:agricultural",
                            "oneway:conditional",
                            "maxweight",
                            "maxweight:hgv",
                            "maxweight:hgv:conditional",
                            "maxheight:physical",
                            "maxheight:backward",
                            "maxaxleload",
                            "maxlength",
                            "maxwidth",
                            "maxspeed",
                            "maxspeed:hgv:forward",
                            "minspeed",
                            "barrier",
                            "locked"})
        EXPECT_TRUE(matters_on_way(key)) << key;
    for (const char* key : {"name", "ref", "building", "maxspeed:source", "source:maxspeed", "accessible",
                            "hgv:lanes", "surface:note", "oneway:bicycle", "", ":conditional", "max", "foot"})
        EXPECT_FALSE(matters_on_way(key)) << key;
    for (const char* key : {"barrier", "bollard", "locked", "width", "ford", "railway", "access", "maxheight",
                            "crossing:barrier", "hgv"})
        EXPECT_TRUE(matters_on_node(key)) << key;
    for (const char* key : {"name", "highway", "traffic_calming", "maxspeed", "surface"})
        EXPECT_FALSE(matters_on_node(key)) << key;
}

TEST(TagViewKeys, Lookups) {
    TagView tags{{"highway", "track"}, {"highway", "path"}};
    tags.add("surface", "");
    EXPECT_EQ(tags.get("highway"), "track");
    EXPECT_TRUE(tags.is("highway", "track"));
    EXPECT_FALSE(tags.is("highway", "path"));
    EXPECT_TRUE(tags.has("surface"));
    EXPECT_FALSE(tags.has("name"));
    EXPECT_EQ(tags.all().size(), 3u);
}

}  // namespace
}  // namespace loamway
