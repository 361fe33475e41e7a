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
        e.known = odds.hard == 200 || odds.gravel == 200 || odds.earth == 200;
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

// Bands say what they stand for, and hold what the plan says in between.
TEST(PlanBands, WearCostAndFuelHaveEdgesAndABasis) {
    TwoWays w({100, 60, 40});
    const Option o = option(make_plan(w.in), "least-time");
    EXPECT_LT(*o.wear.low, *o.wear.share);
    EXPECT_GT(*o.wear.high, *o.wear.share * 1.6 - 1e-12);
    EXPECT_FALSE(o.wear.calibrated);
    EXPECT_EQ(o.wear.basis.find("assumption: one standard deviation of the wear rates, 60 %"), 0u);
    const double belts = w.in.rates.belt_set.units() + w.in.rates.belt_fitting.units();
    EXPECT_LT(*o.cost.low, *o.cost.total);
    const double fuel =
        (*o.fuel_high_l - *o.fuel_l) * w.in.rates.fuel_per_l.units() * (1 + w.in.rates.oil_share);
    EXPECT_GT(fuel, 0);
    // A tenth of the trials costs more: about as much as belts and fuel at their upper edges together.
    const double upper = (*o.wear.high - *o.wear.share) * belts + fuel;
    EXPECT_GT(*o.cost.high - *o.cost.total, 0.5 * upper);
    EXPECT_LT(*o.cost.high - *o.cost.total, 2 * upper);
    EXPECT_FALSE(o.cost.low_high_basis.empty());
    // Rates learnt from heights measured count, and are closer.
    w.in.wear.rates.hard_mm_per_km *= 2;
    w.in.wear.rates.gravel_mm_per_km *= 2;
    w.in.wear.rates.earth_mm_per_km *= 2;
    w.in.wear.rates.concrete_mm_per_km *= 2;
    w.in.wear.sd_share = 0.1;
    w.in.wear.calibrated = true;
    const Option learnt = option(make_plan(w.in), "least-time");
    EXPECT_NEAR(*learnt.wear.share, 2 * *o.wear.share, 1e-9);
    EXPECT_TRUE(learnt.wear.calibrated);
    EXPECT_EQ(learnt.wear.basis.find("calibrated"), 0u);
}

TEST(PlanBands, ReadingsMakePlansActOnTheEstimate) {
    TwoWays w;
    const Option before = option(make_plan(w.in), "least-time");
    EXPECT_FALSE(before.heat->calibrated);
    EXPECT_EQ(*before.heat->acted_on_c, *before.heat->bar_high_c);
    w.in.heat.scale = 1.128;  // the worked update of the belt's check values, H4
    w.in.heat.log_sd = 0.062;
    w.in.heat.core_sd_k = 5.2;
    w.in.heat.used = 1;
    const Option after = option(make_plan(w.in), "least-time");
    EXPECT_TRUE(after.heat->calibrated);
    EXPECT_GT(*after.heat->bar_peak_c, *before.heat->bar_peak_c);
    EXPECT_NEAR(*after.heat->acted_on_c, *after.heat->bar_peak_c + 3, 1e-9);
    // The road's surface is known, so the band is that of the core alone.
    EXPECT_NEAR(*after.heat->bar_high_c, *after.heat->bar_peak_c + 5.2, 1e-9);
    EXPECT_NEAR(*after.heat->bar_low_c, *after.heat->bar_peak_c - 5.2, 1e-9);
    EXPECT_NE(after.heat->basis.find("1 infrared reading, 5.2"), std::string::npos);
}

// The contract holds the estimate and 3 degrees against the limit; a band that reaches over it is still said.
TEST(PlanBands, ABandOverTheLimitIsToCheckThoughTheEstimateHolds) {
    TwoWays w;
    w.in.heat.log_sd = 0.062;
    w.in.heat.used = 1;
    const auto heat_flag = [&] {
        const Option o = option(make_plan(w.in), "least-time");
        EXPECT_TRUE(o.feasible);
        EXPECT_LE(*o.heat->acted_on_c, *o.heat->limit_c);
        for (const Flag& f : o.flags)
            if (f.kind == "heat" && f.text.find("the band of the estimate reaches") != std::string::npos)
                return f.severity;
        return Severity::note;
    };
    w.in.heat.core_sd_k = 1;
    EXPECT_EQ(heat_flag(), Severity::note);
    w.in.heat.core_sd_k = 100;
    EXPECT_EQ(heat_flag(), Severity::check);
}

// Belts that have not worked yet are young, whether somebody says their hours or not.
TEST(PlanBands, NewBeltsHaveTheLowerLimitsOfYoungOnes) {
    TwoWays w;
    w.in.belts.condition = BeltsNow::Condition::not_run_in;
    w.in.belts.preconditioned = true;
    const Option o = option(make_plan(w.in), "least-time");
    EXPECT_EQ(*o.heat->limit_c, 95);
    EXPECT_EQ(*o.heat->caution_c, 75);
    EXPECT_LE(*o.speed_caps_kmh[0], 25);
}

// A wet road lubricates by itself: no powder on the way, nor for the kilometres since the last.
TEST(PlanBands, AWetRoadTakesNoPowder) {
    TwoWays w;
    w.in.conditions.ground = Ground::wet;
    w.in.conditions.ground_assumed = false;
    const Option wet = option(make_plan(w.in), "least-time");
    EXPECT_FALSE(wet.relube_interval_m);
    w.in.belts.since_lube = Length::from_km(40);
    const Option later = option(make_plan(w.in), "least-time");
    for (const Option* o : {&wet, &later})
        for (const PlanStop& s : o->stops)
            EXPECT_TRUE(s.kind != "relube" && s.kind != "start") << s.kind;
    EXPECT_TRUE(later.feasible);
    // Water on the guide lugs does what powder does not: friction stays at that of a wet road.
    EXPECT_EQ(*wet.heat->guide_lug_peak_c, *later.heat->guide_lug_peak_c);
    w.in.conditions.ground = Ground::dry;
    w.in.belts.since_lube = Length::from_km(5);
    EXPECT_GT(*option(make_plan(w.in), "least-time").heat->guide_lug_peak_c, *later.heat->guide_lug_peak_c);
}

}  // namespace
}  // namespace loamway
