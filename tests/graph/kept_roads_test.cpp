// SPDX-License-Identifier: Apache-2.0
#include "loamway/graph/kept_roads.h"

#include <gtest/gtest.h>

#include "loamway/base/time.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

// A chain of roads, each with a condition of another kind, and a turn that is banned by the hour.
struct ConditionalRoads {
    ConditionalRoads() {
        const std::vector<TinyTags> tags{
            {{"highway", "unclassified"}},
            {{"highway", "unclassified"}, {"hgv:conditional", "no @ (06:00-12:00)"}},
            {{"highway", "tertiary"}, {"access:conditional", "no @ (weight>7.5)"}},
            {{"highway", "track"}, {"motor_vehicle:conditional", "no @ wet"}},
            {{"highway", "tertiary"}, {"maxspeed:conditional", "30 @ (Mo-Fr 07:00-16:00)"}},
            {{"highway", "tertiary"}, {"maxweight:conditional", "3.5 @ (sunset-sunrise)"}},
            {{"highway", "unclassified"}, {"oneway:conditional", "yes @ (Sa,Su)"}}};
        NodeId last = map.node(51.0, 4.0);
        std::vector<NodeId> nodes{last};
        std::vector<EdgeId> edges;
        for (std::size_t i = 0; i < tags.size(); ++i) {
            const NodeId next = map.node(i % 2 == 0 ? 51.0 : 51.01, 4.02 + 0.02 * static_cast<double>(i));
            TinyEdge e;
            e.tags = tags[i];
            edges.push_back(map.road(last, next, e));
            nodes.push_back(last = next);
        }
        map.restriction({edges[0], edges[1]}, nodes[1], false,
                        {{"restriction:conditional", "no_straight_on @ (04:00-06:00)"}});
        region.emplace(Region::from_data(map.build()));
    }
    TinyMap map;
    std::optional<Region> region;
};

std::vector<VehicleView> vehicles() {
    VehicleView tractor, truck;
    tractor.width = Length::from_metres(2.9);
    tractor.mass = Mass::from_tonnes(19);
    truck.kind = VehicleKind::truck;
    truck.width = Length::from_metres(2.55);
    truck.mass = Mass::from_tonnes(40);
    truck.axle = Mass::from_tonnes(9);
    VehicleView light = truck;
    light.mass = Mass::from_tonnes(7);
    return {tractor, truck, light};
}

Moment moment(const char* text, bool daylight, std::optional<bool> wet) {
    return {TimeZone().local(parse_time(text, TimeZone())), daylight, wet};
}

std::vector<Moment> moments() {
    return {moment("2026-07-14T05:00:00Z", true, false), moment("2026-07-14T07:30:00Z", true, false),
            moment("2026-07-14T07:31:00Z", true, false), moment("2026-07-14T13:00:00Z", true, true),
            moment("2026-07-18T23:00:00Z", false, {}),   moment("2026-07-18T08:00:00Z", true, {}),
            moment("2026-07-15T07:45:00Z", true, false)};
}

void expect_alike(const VehicleRoads& kept, const VehicleRoads& fresh) {
    for (std::uint32_t a = 0; a < fresh.graph().arc_count(); ++a) {
        const ArcId arc{a};
        EXPECT_EQ(kept.open(arc), fresh.open(arc)) << a;
        EXPECT_EQ(kept.ends_only(arc), fresh.ends_only(arc)) << a;
        const RoadReading &k = kept.reading(arc), &f = fresh.reading(arc);
        EXPECT_EQ(k.posted, f.posted) << a;
        EXPECT_EQ(k.passage, f.passage) << a;
        EXPECT_EQ(k.access.passage, f.access.passage) << a;
        EXPECT_EQ(k.access.flags, f.access.flags) << a;
        EXPECT_EQ(k.limits.size(), f.limits.size()) << a;
        for (std::uint32_t b = 0; b < fresh.graph().arc_count(); ++b)
            if (fresh.graph().tail(ArcId{b}) == fresh.graph().head(arc)) {
                EXPECT_EQ(kept.may_follow(arc, ArcId{b}), fresh.may_follow(arc, ArcId{b})) << a << ' ' << b;
            }
    }
}

TEST(KeptRoads, AreThoseOfTheirVehicleAndMomentWhateverWasAskedBefore) {
    const ConditionalRoads world;
    KeptRoads kept(world.region->view());
    const RoadGraph graph(world.region->view());
    std::size_t asked = 0;
    for (int round = 0; round < 2; ++round)
        for (const VehicleView& v : vehicles())
            for (const Moment& m : moments()) {
                ++asked;
                expect_alike(*kept.roads(v, m), VehicleRoads(graph, v, m));
            }
    // The two of a minute apart, and Tuesday and Wednesday morning, share theirs; the second round reads
    // nothing.
    EXPECT_LT(kept.readings(), asked / 2);
    EXPECT_GE(kept.readings(), vehicles().size() * 4);
}

TEST(KeptRoads, AConditionThatTurnsIsReadAgain) {
    const ConditionalRoads world;
    KeptRoads kept(world.region->view());
    const VehicleView truck = vehicles()[1];
    const Moment early = moments()[0], banned = moments()[1];
    const ArcId arc = kept.graph().arc_of(EdgeId{1u}, false);
    EXPECT_TRUE(kept.roads(truck, early)->open(arc));
    EXPECT_FALSE(kept.roads(truck, banned)->open(arc));
    EXPECT_TRUE(kept.roads(truck, early)->open(arc));
    EXPECT_EQ(kept.readings(), 2u);
}

TEST(KeptRoads, ForgetsTheVehicleAskedForLongestAgo) {
    const ConditionalRoads world;
    KeptRoads kept(world.region->view());
    VehicleView v = vehicles()[0];
    const auto first = kept.roads(v, moments()[0]);
    for (int i = 1; i <= 40; ++i) {
        v.mass = Mass::from_tonnes(100 + i);
        (void)kept.roads(v, moments()[0]);
    }
    EXPECT_EQ(kept.readings(), 41u);
    (void)kept.roads(vehicles()[0], moments()[0]);
    EXPECT_EQ(kept.readings(), 42u);
    // Who still holds the old ones may go on using them.
    EXPECT_TRUE(first->open(ArcId{0u}));
}

}  // namespace
}  // namespace loamway
