// SPDX-License-Identifier: Apache-2.0
// Which stretch of assumed surface a plan asks to look at, and what it says that depends on it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fmt/format.h>

#include "loamway/base/file.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

constexpr double km_east = 1000.0 / 66200.0;  // degrees of longitude at this latitude, about

PlanInputs inputs(const Region& region, GeoPoint from, GeoPoint to) {
    PlanInputs in;
    in.region = &region;
    in.from = {"Barn", from};
    in.to = {"Field", to};
    const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
    in.machine = read_machine(parse_toml(read_text_file(file), file), file);
    in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
    in.haul = false;
    return in;
}

/// Two ways from the barn to the field: Mill Lane, 9 km, whose surface nobody tagged, in two pieces; and a
/// paved road of 8.95 km, which costs more than 9 km of gravel and less than 9 km paved.
struct TwoWays {
    explicit TwoWays(SurfaceOdds mill_lane = {90, 100, 10}, bool known = false,
                     std::string name = "Mill Lane") {
        const NodeId yard = map.node(53.5, 13.0);
        const NodeId barn = map.node(53.5, 13.0 + 0.3 * km_east);
        const NodeId middle = map.node(53.51, 13.0 + 5 * km_east);
        const NodeId field = map.node(53.5, 13.0 + 9 * km_east);
        const NodeId end = map.node(53.5, 13.0 + 9.3 * km_east);
        TinyEdge lane;
        lane.tags = {{"highway", "track"}};
        lane.odds = mill_lane;
        lane.known = known;
        lane.name = std::move(name);
        lane.length_dm = 45000;
        map.road(barn, middle, lane);
        map.road(middle, field, lane);
        TinyEdge paved;
        paved.tags = {{"highway", "tertiary"}};
        paved.odds = {200, 0, 0};
        paved.length_dm = 89500;
        map.road(barn, field, paved);
        TinyEdge start = paved;
        start.length_dm = 3000;
        map.road(yard, barn, start);
        map.road(field, end, start);
        from = map.point(yard);
        to = map.point(end);
    }
    Plan plan() {
        region = std::make_unique<Region>(Region::from_data(map.build()));
        return make_plan(inputs(*region, from, to));
    }
    TinyMap map;
    GeoPoint from, to;
    std::unique_ptr<Region> region;
};

std::vector<std::string> flags_of(const Plan& plan, const std::string& option) {
    std::vector<std::string> out;
    for (const Flag& f : plan.find_option(option)->flags)
        if (f.kind == "assumed")
            out.push_back(f.text);
    return out;
}

TEST(Confirm, NamesTheStretchThatDecidesTheRoute) {
    TwoWays ways;
    const Plan plan = ways.plan();
    ASSERT_EQ(plan.verdict.option, "least-hard");
    ASSERT_EQ(*plan.find_option("least-hard")->length_m, 9600) << "Mill Lane";
    ASSERT_EQ(*plan.find_option("least-time")->length_m, 9550);
    EXPECT_THAT(plan.verdict.would_flip,
                Contains(fmt::format(
                    "confirm 9.0 km of Mill Lane (km 0.3 to 9.3 of Least paved): it decides the route: "
                    "taken as all paved, Least time is cheapest, at {:.0f} CU",
                    *plan.find_option("least-time")->cost.total)));
    // The same is said by a plan on a map that knows Mill Lane to be paved.
    TwoWays paved({200, 0, 0}, true);
    const Plan if_paved = paved.plan();
    EXPECT_EQ(*if_paved.find_option(if_paved.verdict.option)->length_m, 9550);
    TwoWays gravel({0, 200, 0}, true);
    const Plan if_gravel = gravel.plan();
    EXPECT_EQ(*if_gravel.find_option(if_gravel.verdict.option)->length_m, 9600);
    EXPECT_THAT(flags_of(plan, "least-hard"), Contains(HasSubstr("it decides the route")));
    EXPECT_THAT(flags_of(plan, "least-time"), Not(Contains(HasSubstr("confirm"))));
    for (const Flag& f : plan.find_option("least-hard")->flags)
        if (f.kind == "assumed" && f.text.starts_with("confirm")) {
            EXPECT_EQ(f.severity, Severity::check);
            EXPECT_NEAR(*f.at_m, 300, 0.1);
        }
}

/// The plan itself is the same whatever is supposed after it.
TEST(Confirm, LeavesThePlansFiguresAlone) {
    TwoWays ways;
    const Plan plan = ways.plan();
    TwoWays gravel({0, 200, 0}, true);
    EXPECT_EQ(*plan.find_option("least-hard")->cost.total,
              *gravel.plan().find_option("least-hard")->cost.total);
}

TEST(Confirm, WhatIsNextToImpossibleIsNotSupposed) {
    TwoWays ways({8, 182, 10});
    const Plan plan = ways.plan();
    EXPECT_THAT(plan.verdict.would_flip, Not(Contains(HasSubstr("confirm"))));
}

TEST(Confirm, WithoutADecisionTheStretchThatMovesThePavedLengthMost) {
    TinyMap map;
    std::vector<NodeId> nodes;
    for (int i = 0; i <= 3; ++i)
        nodes.push_back(map.node(53.5, 13.0 + 4 * i * km_east));
    const char* names[] = {"Ash Road", "Birch Road", "Cedar Road"};
    const SurfaceOdds odds[] = {{196, 2, 2}, {120, 70, 10}, {30, 150, 20}};
    for (std::size_t i = 0; i < 3; ++i) {
        TinyEdge e;
        e.name = names[i];
        e.known = false;
        e.odds = odds[i];
        e.length_dm = i == 0 ? 60000 : 40000;
        map.road(nodes[i], nodes[i + 1], e);
    }
    const Region region = Region::from_data(map.build());
    const Plan plan = make_plan(inputs(region, map.point(nodes.front()), map.point(nodes.back())));
    EXPECT_THAT(plan.verdict.would_flip, IsEmpty());
    // Ash Road is longer and almost surely paved; Cedar Road could become 3.4 km more paved, Birch Road 2.4
    // km less.
    EXPECT_THAT(plan.verdict.reasons,
                Contains("confirm 4.0 km of Cedar Road (km 10.0 to 14.0 of Least paved): it moves "
                         "the paved km by up to 3.4"));
    const Option& o = plan.options.front();
    EXPECT_EQ(*o.hard_low_m, 0);
    EXPECT_EQ(*o.hard_high_m, 14000);
}

TEST(Confirm, KnownRoadsNeedNoLook) {
    TwoWays ways({0, 200, 0}, true);
    const Plan plan = ways.plan();
    EXPECT_THAT(plan.verdict.would_flip, IsEmpty());
    EXPECT_THAT(plan.verdict.reasons, Not(Contains(HasSubstr("confirm"))));
}

TEST(Confirm, ATrackWithoutANameIsNamedByTheNearestPlace) {
    TwoWays ways({90, 100, 10}, false, "");
    ways.map.place("Oakley", 53.52, 13.0 + 4 * km_east);
    ways.map.place("Farley", 53.6, 13.3);
    EXPECT_THAT(ways.plan().verdict.would_flip,
                Contains(HasSubstr("confirm 9.0 km of track near Oakley (km 0.3")));
    TwoWays nowhere({90, 100, 10}, false, "");
    EXPECT_THAT(nowhere.plan().verdict.would_flip, Contains(HasSubstr("9.0 km of track without a name")));
}

TEST(Confirm, CanDecideBetweenDrivingAndHauling) {
    TwoWays ways;
    ways.region = std::make_unique<Region>(Region::from_data(ways.map.build()));
    PlanInputs in = inputs(*ways.region, ways.from, ways.to);
    in.haul = true;
    // A low-bed that costs nothing, so that its permit can set the price.
    in.rates.truck_per_h = in.rates.truck_per_km = in.rates.truck_minimum = in.rates.permit = Money();
    in.rates.load_time = in.rates.unload_time = in.rates.wait_time = Duration();
    const Plan plan = make_plan(in);
    // Half-way between the lane as gravel and the paved road.
    const double wanted =
        (*plan.find_option("least-hard")->cost.total + *plan.find_option("least-time")->cost.total) / 2;
    const double hauled = *plan.find_option("haul")->cost.total;
    ASSERT_LT(hauled, wanted);
    in.rates.permit = Money::from_units(wanted - hauled);
    const Plan close = make_plan(in);
    ASSERT_NEAR(*close.find_option("haul")->cost.total, wanted, 0.01);
    ASSERT_EQ(close.verdict.option, "least-hard");
    EXPECT_THAT(close.verdict.would_flip, Contains(AllOf(HasSubstr("it decides between driving and hauling"),
                                                         HasSubstr("Haul is cheapest"))));
}

}  // namespace
}  // namespace loamway
