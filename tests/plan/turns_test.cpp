// SPDX-License-Identifier: Apache-2.0
// Turns cost belts and time: routes avoid them where that pays, and what a plan prints counts them.
#include <gtest/gtest.h>
#include "loamway/belt/wear.h"

#include <cmath>
#include <numbers>

#include "loamway/base/file.h"
#include "loamway/costs/costs.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

// From a road that runs east to one that runs south, all asphalt: three legs of 1 km with a right angle
// before each, or a wide bend of 3 km and `longer_dm`.
struct Corner {
    explicit Corner(bool with_sharp, bool with_gentle, std::uint32_t longer_dm = 0) {
        const NodeId a = map.node(53.500, 13.000), p = map.node(53.500, 13.010);
        const NodeId r = map.node(53.490, 13.030), b = map.node(53.480, 13.030);
        road(a, p, 6000);
        road(r, b, 11000);
        if (with_sharp) {
            const NodeId q1 = map.node(53.510, 13.010), q2 = map.node(53.510, 13.030);
            for (const auto& [x, y] : {std::pair{p, q1}, std::pair{q1, q2}, std::pair{q2, r}})
                road(x, y, 10000);
        }
        if (with_gentle) {
            TinyEdge bend = asphalt(30000 + longer_dm);
            for (int i = 1; i < 60; ++i) {
                const double angle = std::numbers::pi / 2 * i / 60;
                bend.inner.push_back(GeoPoint::from_degrees(53.490 + 0.010 * std::cos(angle),
                                                            13.010 + 0.020 * std::sin(angle)));
            }
            map.road(p, r, bend);
        }
        region = std::make_unique<Region>(Region::from_data(map.build()));
        in.region = region.get();
        in.from = {"Barn", map.point(a)};
        in.to = {"Field", map.point(b)};
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.haul = false;
    }
    static TinyEdge asphalt(std::uint32_t dm) {
        TinyEdge e;
        e.tags = {{"highway", "unclassified"}, {"surface", "asphalt"}};
        e.odds = {200, 0, 0};
        e.length_dm = dm;
        return e;
    }
    void road(NodeId x, NodeId y, std::uint32_t dm) { map.road(x, y, asphalt(dm)); }

    TinyMap map;
    std::unique_ptr<Region> region;
    PlanInputs in;
};

Option option(const Plan& plan, const std::string& id) {
    for (const Option& o : plan.options)
        if (o.id == id || std::find(o.also.begin(), o.also.end(), id) != o.also.end())
            return o;
    throw std::runtime_error("no option " + id);
}

TEST(Turns, ADetourIsTakenAsLongAsItIsCheaperThanTheTurns) {
    for (const Steering steering : {Steering::differential, Steering::articulated, Steering::rear_wheel})
        for (const std::uint32_t longer_dm : {0u, 300u, 60000u}) {
            Corner c(true, true, longer_dm);
            c.in.machine.steering = steering;
            const Plan plan = make_plan(c.in);
            const int turns = longer_dm < 60000 ? 0 : 3;
            EXPECT_EQ(*option(plan, "least-cost").sharp_turns_hard, turns) << longer_dm;
            EXPECT_EQ(*option(plan, "least-time").sharp_turns_hard, turns) << longer_dm;
            EXPECT_EQ(*option(plan, "least-cost").length_m, turns == 0 ? 4700 + longer_dm / 10 : 4700);
        }
    // Turning on the spot scrubs more than turning in a curve, and is worth a longer way round.
    Corner c(true, true, 4000);
    c.in.machine.steering = Steering::differential;
    EXPECT_EQ(*option(make_plan(c.in), "least-cost").sharp_turns_hard, 0);
    c.in.machine.steering = Steering::rear_wheel;
    EXPECT_EQ(*option(make_plan(c.in), "least-cost").sharp_turns_hard, 3);
}

// What the search minimises is what the plan prints.
TEST(Turns, PrintedTimeAndCostCountThem) {
    for (const Steering steering : {Steering::differential, Steering::articulated, Steering::rear_wheel}) {
        Corner sharp(true, false), gentle(false, true);
        sharp.in.machine.steering = gentle.in.machine.steering = steering;
        const Option s = option(make_plan(sharp.in), "least-cost"),
                     g = option(make_plan(gentle.in), "least-cost");
        ASSERT_EQ(*s.length_m, *g.length_m);
        EXPECT_EQ(*s.sharp_turns_hard, 3);
        EXPECT_EQ(*g.sharp_turns_hard, 0);
        const double seconds = steering == Steering::differential  ? 12
                               : steering == Steering::articulated ? 10
                                                                   : 8;
        EXPECT_NEAR(*s.driving_s - *g.driving_s, 3 * seconds, 1e-6);
        EXPECT_NEAR(*s.duration_s - *g.duration_s, 3 * seconds, 1e-6);

        const Rates& r = sharp.in.rates;
        const double mm = 3 * turn_wear_mm(SurfaceClass::hard, sharp.in.machine, 1.0);
        // The bars warm up in other steps along one road than along three: 0.2 um.
        EXPECT_NEAR(*s.wear.mm - *g.wear.mm, mm, 3e-4);
        DriveFigures longer, plain;
        longer.driving = Duration::from_seconds(3 * seconds);
        longer.fuel = r.idle_per_h * longer.driving.hours();
        longer.wear_share = wear_share(*s.wear.mm - *g.wear.mm, sharp.in.machine.belts);
        const double cost = drive_cost(longer, r).total().units() - drive_cost(plain, r).total().units();
        EXPECT_NEAR(*s.cost.total - *g.cost.total, cost, 1e-6);
    }
}

}  // namespace
}  // namespace loamway
