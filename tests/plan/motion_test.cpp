// SPDX-License-Identifier: Apache-2.0
// Time, fuel and power in plans: the motion model along roads on the level and over hills, and that the
// searches weigh what the plan prints.
#include <gtest/gtest.h>

#include "../../src/plan/setting.h"
#include "loamway/base/file.h"
#include "loamway/belt/motion.h"
#include "loamway/costs/costs.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

// Two roads of 10 km, one edge each, from one yard to one field: straight on, and round a hair to the south.
struct TwoWays {
    explicit TwoWays(SurfaceOdds odds = {200, 0, 0}, std::vector<double> straight_heights = {},
                     std::uint32_t round_dm = 100000, const char* profile = "medium") {
        const NodeId from = map.node(53.5, 13.0), to = map.node(53.5, 13.15);
        TinyEdge e;
        e.tags = {{"highway", "unclassified"}};
        e.odds = odds;
        e.length_dm = 100000;
        const EdgeId straight = map.road(from, to, e);
        if (!straight_heights.empty())
            map.heights(straight, std::move(straight_heights));
        if (round_dm > 0) {
            e.length_dm = round_dm;
            e.inner = {GeoPoint::from_degrees(53.499, 13.07)};
            map.road(from, to, e);
        }
        region = std::make_unique<Region>(Region::from_data(map.build()));
        in.region = region.get();
        in.from = {"Yard", map.point(from)};
        in.to = {"Field", map.point(to)};
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/" + profile + ".toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
        in.conditions.air = Temperature::from_celsius(10);
        in.rates.prepare = Duration();
    }
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

double litres(const PlanInputs& in, RoadSurface ground, double km, double kmh, double grade) {
    MotionParameters p;
    p.engine_speed_reduction_pct = in.rates.speed_reduction_pct;
    const Motion motion(in.machine, in.machine.states.front(), p);
    return motion.fuel(ground, Speed::from_kmh(kmh), grade).litres_per_hour * km / kmh;
}

TEST(PlanMotion, FuelIsThatOfTheMotionModel) {
    TwoWays paved;
    EXPECT_NEAR(*option(make_plan(paved.in), "least-time").fuel_l,
                litres(paved.in, RoadSurface::asphalt, 10, 40, 0), 1e-9);
    TwoWays gravel({0, 200, 0});
    EXPECT_NEAR(*option(make_plan(gravel.in), "least-time").fuel_l,
                litres(gravel.in, RoadSurface::gravel, 10, 30, 0), 1e-9);
    // What is towed is pulled along.
    TwoWays light, heavy;
    heavy.in.machine.states[0].towed = Mass::from_tonnes(12);
    EXPECT_GT(*option(make_plan(heavy.in), "least-time").fuel_l,
              1.3 * *option(make_plan(light.in), "least-time").fuel_l);
}

TEST(PlanMotion, HillsCostTimeAndFuelUpAndLessDown) {
    // 3 % over 10 km; check values of the belt model: a 16 t machine climbs that at 37.5 km/h on concrete.
    TwoWays up({200, 0, 0}, {0, 300}, 0), level({200, 0, 0}, {}, 0), down({200, 0, 0}, {300, 0}, 0);
    const Option climb = option(make_plan(up.in), "least-time"),
                 flat = option(make_plan(level.in), "least-time"),
                 fall = option(make_plan(down.in), "least-time");
    const Motion motion(up.in.machine, up.in.machine.states.front(), {});
    const Speed v = motion.max_speed(RoadSurface::asphalt, 0.03, Speed::from_kmh(40));
    ASSERT_LT(v.kmh(), 39);
    EXPECT_NEAR(*climb.driving_s, (Length::from_km(10) / v).seconds(), 0.01);
    EXPECT_NEAR(*climb.fuel_l, litres(up.in, RoadSurface::asphalt, 10, v.kmh(), 0.03), 1e-6);
    EXPECT_NEAR(*fall.fuel_l, litres(down.in, RoadSurface::asphalt, 10, 40, -0.03), 1e-6);
    EXPECT_LT(*fall.fuel_l, *flat.fuel_l);
    EXPECT_EQ(*fall.driving_s, *flat.driving_s);
    // At a speed that the engine holds uphill too: more pull, more slip at the tips, more heat.
    up.in.machine.hard = down.in.machine.hard = Speed::from_kmh(30);
    const Option slow_climb = option(make_plan(up.in), "least-time"),
                 slow_fall = option(make_plan(down.in), "least-time");
    EXPECT_EQ(*slow_climb.driving_s, *slow_fall.driving_s);
    EXPECT_GT(*slow_climb.heat->bar_peak_c, *slow_fall.heat->bar_peak_c);
    EXPECT_GT(*slow_climb.wear.mm, *slow_fall.wear.mm);
}

TEST(PlanMotion, ALongerWayRoundAHillIsTakenWhereItIsFasterOrCheaper) {
    // Over the hill and down: 15 % each way. Round it: 0.4 km more on the level.
    TwoWays hill({200, 0, 0}, {0, 750, 0}, 104000), level({200, 0, 0}, {}, 104000);
    EXPECT_EQ(*option(make_plan(hill.in), "least-time").length_m, 10400);
    EXPECT_EQ(*option(make_plan(hill.in), "least-cost").length_m, 10400);
    EXPECT_EQ(*option(make_plan(level.in), "least-time").length_m, 10000);
    EXPECT_EQ(*option(make_plan(level.in), "least-cost").length_m, 10000);
}

// What the searches minimise is what the plan prints: to the rounding of a weight for time and fuel; belts
// wear in the search at the settled temperature of their tips, in the plan at that along the way.
TEST(PlanMotion, WeightsAreThePrintedSums) {
    for (const char* profile : {"small", "medium", "large", "half-track", "four-belt"})
        for (const SurfaceOdds odds :
             {SurfaceOdds{200, 0, 0}, SurfaceOdds{0, 200, 0}, SurfaceOdds{0, 0, 200}})
            for (const std::vector<double>& heights : {std::vector<double>{}, std::vector<double>{0, 300},
                                                       std::vector<double>{100, 400, 0, 20, 300}}) {
                TwoWays w(odds, heights, 0, profile);
                const Setting setting(w.in);
                const VehicleRoads roads(setting.graph(), w.in.machine.vehicle(setting.state()), {});
                const auto time = setting.time_weights(roads), cost = setting.cost_weights(roads);
                const Option o = option(make_plan(w.in), "least-time");
                ArcId a{0u};
                if (setting.graph().arc(a).reversed != 0)
                    a = setting.graph().twin(a);
                EXPECT_NEAR(time[a.index()], *o.driving_s * 1000, 0.51) << profile;
                const double belts = *o.cost.belts;
                const double fixed =
                    w.in.rates.lubricant_per_stop.units() * static_cast<double>(o.stops.size());
                const double printed = *o.cost.total - fixed;
                EXPECT_NEAR(cost[a.index()] / 1e4, printed, 0.25 * belts + 1e-4) << profile;
                const Stretch s = setting.drive(a, Length::from_km(10), setting.machine_speed(roads, a));
                EXPECT_NEAR(
                    (setting.driving_cost_per_hour() * s.takes.hours() + setting.fuel_cost(s.fuel)).units(),
                    *o.cost.labour + *o.cost.fuel + *o.cost.machine, 1e-6)
                    << profile;
            }
}

TEST(PlanMotion, SlopesKeepBothSums) {
    const Slope s = slope_of({Length::from_metres(30), Length::from_metres(10)}, Length::from_metres(1000));
    EXPECT_DOUBLE_EQ(s.grade, 0.04);
    EXPECT_DOUBLE_EQ(s.climbing, 0.75);
    EXPECT_DOUBLE_EQ(s.net(), 0.02);
    EXPECT_EQ(slope_of({}, Length::from_metres(1000)).grade, 0);
    EXPECT_EQ(slope_of({Length::from_metres(9), {}}, Length::from_metres(1)).grade, 1.0 / 3.0);
    EXPECT_EQ(slope_of({Length::from_metres(9), {}}, Length()).grade, 0);
}

}  // namespace
}  // namespace loamway
