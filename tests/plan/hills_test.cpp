// SPDX-License-Identifier: Apache-2.0
// What plans say about hills: one road of 9 km over a hill, driven there and back, with and without heights.
#include <gtest/gtest.h>

#include <stdexcept>

#include "loamway/base/file.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

/// Three gravel roads of 3 km from west to east.
struct HillRoad {
    HillRoad() {
        for (int i = 0; i <= 3; ++i)
            nodes.push_back(map.node(53.5, 13.0 + i * 3000.0 / 66'450.0));
        for (std::size_t i = 0; i < 3; ++i)
            edges.push_back(map.road(nodes[i], nodes[i + 1],
                                     {.tags = {{"highway", "unclassified"}}, .length_dm = 30000}));
    }
    [[nodiscard]] Region region() const { return Region::from_data(map.build()); }
    TinyMap map;
    std::vector<NodeId> nodes;
    std::vector<EdgeId> edges;
};

HillRoad with_hill() {
    HillRoad road;
    road.map.heights(road.edges[0], {20.0, 20.0});
    road.map.heights(road.edges[1], {20.0, 140.0, 80.0});  // 8 % up over 1.5 km, 4 % down
    road.map.heights(road.edges[2], {80.0, 80.4, 80.0, 80.4, 80.0});
    return road;
}

Option driven(const Region& region, GeoPoint from, GeoPoint to, Plan* whole = nullptr) {
    PlanInputs in;
    in.region = &region;
    in.from = {"Barn", from};
    in.to = {"Field", to};
    const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
    in.machine = read_machine(parse_toml(read_text_file(file), file), file);
    in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
    const Plan plan = make_plan(in);
    if (whole != nullptr)
        *whole = plan;
    for (const Option& o : plan.options)
        if (o.mode == Mode::drive)
            return o;
    throw std::runtime_error("no driven option");
}

double height_at(const Option& o, double at_m) {
    const auto& e = *o.elevation;
    for (std::size_t i = 1; i < e.size(); ++i)
        if (at_m <= e[i][0])
            return e[i - 1][1] + (e[i][1] - e[i - 1][1]) * (at_m - e[i - 1][0]) / (e[i][0] - e[i - 1][0]);
    return e.back()[1];
}

TEST(Hills, ClimbAndProfileThereAndBack) {
    const HillRoad road = with_hill();
    const Region region = road.region();
    const GeoPoint west = road.map.point(road.nodes.front()), east = road.map.point(road.nodes.back());
    Plan plan;
    const Option there = driven(region, west, east, &plan), back = driven(region, east, west);
    EXPECT_EQ(plan.region.elevation, "drawn heights");
    ASSERT_TRUE(there.climb && there.elevation);
    EXPECT_NEAR(*there.climb->ascent_m, 120, 0.5);
    EXPECT_NEAR(*there.climb->descent_m, 60, 0.5);
    EXPECT_NEAR(*there.climb->steepest_pct, 8, 0.1);
    EXPECT_GE(*there.climb->steepest_at_m, 2990);
    EXPECT_LE(*there.climb->steepest_at_m, 4410);
    EXPECT_EQ(*there.climb->flat_assumed_m, 0);
    EXPECT_NEAR(*back.climb->ascent_m, 60, 0.5);
    EXPECT_NEAR(*back.climb->descent_m, 120, 0.5);
    EXPECT_NEAR(*back.climb->steepest_pct, -8, 0.1);
    // Thinned to the bends of the profile, along the metres of the option.
    EXPECT_LE(there.elevation->size(), 6u);
    EXPECT_EQ(there.elevation->front()[0], 0);
    EXPECT_NEAR(there.elevation->back()[0], *there.length_m, 1);
    for (const auto& [at_m, metres] :
         {std::pair{1000.0, 20.0}, {3750.0, 80.0}, {4500.0, 140.0}, {5250.0, 110.0}, {8000.0, 80.0}})
        EXPECT_NEAR(height_at(there, at_m), metres, 1.1) << at_m;
    for (const double at_m : {500.0, 3333.0, 4711.0, 7000.0})
        EXPECT_NEAR(height_at(there, at_m), height_at(back, 9000 - at_m), 1.5) << at_m;
}

TEST(Hills, PartOfARoad) {
    const HillRoad road = with_hill();
    const Region region = road.region();
    const GeoPoint foot = road.map.point(road.nodes[1]), end = road.map.point(road.nodes[2]);
    const Option o = driven(region, interpolate(foot, end, 0.25), interpolate(foot, end, 0.75));
    EXPECT_NEAR(o.elevation->front()[1], 80, 1.1);
    EXPECT_NEAR(o.elevation->back()[1], 110, 1.1);
    EXPECT_NEAR(*o.climb->ascent_m, 60, 1);
    EXPECT_NEAR(*o.climb->descent_m, 30, 1);
}

TEST(Hills, RoadsWithoutHeightsAreFlatAndCounted) {
    HillRoad road;
    road.map.heights(road.edges[0], {20.0, 50.0});
    road.map.heights(road.edges[2], {50.0, 20.0});
    const Region region = road.region();
    const Option o = driven(region, road.map.point(road.nodes.front()), road.map.point(road.nodes.back()));
    EXPECT_NEAR(*o.climb->flat_assumed_m, 3000, 1);
    EXPECT_NEAR(*o.climb->ascent_m, 30, 0.5);
    EXPECT_NEAR(height_at(o, 4500), 50, 1);
}

TEST(Hills, WithoutElevationNothingIsSaid) {
    const HillRoad road;
    const Region region = road.region();
    Plan plan;
    const Option o =
        driven(region, road.map.point(road.nodes.front()), road.map.point(road.nodes.back()), &plan);
    EXPECT_FALSE(o.climb);
    EXPECT_FALSE(o.elevation);
    EXPECT_EQ(plan.region.elevation, "");
}

}  // namespace
}  // namespace loamway
