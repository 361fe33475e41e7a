// SPDX-License-Identifier: Apache-2.0
// The break-in plan: what it must ask for in each state of the belts, and that its figures follow the models.
#include "loamway/belt/break_in.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "belt_checks.h"
#include "loamway/belt/reduced_heat.h"

namespace loamway {
namespace {

using test::check_machine;

using Condition = BeltsNow::Condition;

BeltsNow belts(Condition condition, std::optional<double> hours = std::nullopt) {
    BeltsNow b;
    b.condition = condition;
    b.hours = hours;
    return b;
}

BreakInPlan plan_for(const Machine& m, const BeltsNow& b, double air_c = 25) {
    Conditions c;
    c.air = Temperature::from_celsius(air_c);
    return break_in_plan(m, m.states.front(), b, c);
}

bool says(const BreakInPlan& plan, std::string_view text) {
    return std::any_of(plan.phases.begin(), plan.phases.end(), [&](const BreakInPhase& p) {
        return std::any_of(p.lines.begin(), p.lines.end(), [&](const BreakInLine& line) {
            return line.text.find(text) != std::string::npos;
        });
    });
}

TEST(BreakIn, NewBeltsWaitForPowderAndTheSlowQuarterOfAnHour) {
    const BreakInPlan plan = plan_for(check_machine("M"), belts(Condition::not_run_in));
    EXPECT_TRUE(plan.road_waits);
    EXPECT_TRUE(says(plan, "inside of both belts"));
    EXPECT_TRUE(says(plan, "15 minutes slowly"));
    EXPECT_TRUE(says(plan, "low-bed"));
    EXPECT_TRUE(says(plan, "3 to 5 km"));
    ASSERT_EQ(plan.stages.size(), 4u);
}

// Common practice, no source: once preconditioned the road is open, gently.
TEST(BreakIn, PreconditionedBeltsGoOnWithTheHours) {
    BeltsNow b = belts(Condition::not_run_in, 12);
    b.preconditioned = true;
    const BreakInPlan plan = plan_for(check_machine("M"), b);
    EXPECT_FALSE(plan.road_waits);
    EXPECT_FALSE(says(plan, "15 minutes slowly"));
    ASSERT_EQ(plan.stages.size(), 3u);
    EXPECT_EQ(plan.stages.front().from_h, 12);
}

TEST(BreakIn, WashedRunInBeltsWantPowderOnceAndNothingMore) {
    const BreakInPlan plan = plan_for(check_machine("M"), belts(Condition::washed));
    EXPECT_FALSE(plan.road_waits);
    EXPECT_TRUE(says(plan, "15 minutes slowly"));
    EXPECT_FALSE(says(plan, "once more"));
    EXPECT_TRUE(plan.stages.empty());
}

TEST(BreakIn, RunInBeltsHaveNothingLeft) {
    const BreakInPlan plan = plan_for(check_machine("M"), belts(Condition::run_in, 100));
    EXPECT_TRUE(plan.phases.empty());
    EXPECT_TRUE(plan.stages.empty());
}

// Under 50 h: limit 15 K lower and at most 25 km/h on paved roads (assumption of the project).
TEST(BreakIn, SpeedAndShareRiseAndTheYoungLimitHolds) {
    const Machine m = check_machine("M");
    const BreakInPlan plan = plan_for(m, belts(Condition::not_run_in));
    for (std::size_t i = 1; i < plan.stages.size(); ++i) {
        EXPECT_GE(plan.stages[i].paved_cap, plan.stages[i - 1].paved_cap);
        EXPECT_EQ(plan.stages[i].from_h, plan.stages[i - 1].to_h);
    }
    for (const RoadStage& s : plan.stages) {
        const bool young = s.from_h < 50;
        EXPECT_EQ(s.limit, HeatLimits::for_belts(s.from_h).limit);
        EXPECT_EQ(s.limit.celsius(), young ? 95 : 110);
        EXPECT_TRUE(!young || s.paved_cap.kmh() <= 25);
        EXPECT_EQ(s.lube_at_start, s.from_h < 100);
        EXPECT_EQ(s.check_stop, s.from_h < 100);
        EXPECT_LE(s.relube_interval.km(), 15.0);
    }
    EXPECT_EQ(plan.stages.back().paved_cap, m.hard);
    EXPECT_FALSE(plan.stages.back().road_share);
}

// Against the reduced model, whose 3 K grow with the heat scale of the upper edge (1.49).
// Plans let belts of under 50 hours go at 25 km/h where the break-in said 20, and those of 50 to 100 as fast
// as they could where it said 30.
TEST(BreakIn, PlansKeepToTheSpeedOfTheStages) {
    const Machine m = check_machine("M");
    for (const double hours : {0.0, 9.9, 10.0, 30.0, 50.0, 99.0}) {
        const BeltsNow b = belts(Condition::run_in, hours);
        const std::optional<Speed> cap = young_paved_cap(b);
        ASSERT_TRUE(cap) << hours;
        EXPECT_EQ(plan_for(m, b).stages.front().paved_cap, std::min(*cap, m.speed_on(SurfaceClass::hard)))
            << hours;
    }
    EXPECT_EQ(young_paved_cap(belts(Condition::not_run_in)), Speed::from_kmh(20));
    EXPECT_FALSE(young_paved_cap(belts(Condition::run_in, 100)));
    EXPECT_FALSE(young_paved_cap(belts(Condition::run_in)));
}

TEST(BreakIn, PavedRunEndsWhereTheReducedModelTooIsAtTheLimit) {
    const Machine m = check_machine("M");
    const BreakInPlan plan = plan_for(m, belts(Condition::not_run_in), 30);
    int reached = 0;
    for (const RoadStage& s : plan.stages) {
        HeatParameters hot;
        hot.scales.heat = std::exp(0.4);
        const HeatModel model(m, m.states.front(), hot);
        const Temperature air = Temperature::from_celsius(30);
        const ReducedHeat<3> regime(model.belt(), hot.rubber,
                                    model.regime({RoadSurface::asphalt, s.paved_cap, air, 0.5, 0.0}));
        auto bar = ReducedBar<3>::at(air);
        regime.advance(bar, s.paved_run / s.paved_cap);
        if (s.paved_run_is_longer) {
            EXPECT_LT(bar.core().celsius(), s.limit.celsius() + 4.5);
            continue;
        }
        ++reached;
        EXPECT_NEAR(bar.core().celsius(), s.limit.celsius(), 4.5) << "from " << s.from_h << " h";
    }
    EXPECT_GT(reached, 0);
}

TEST(BreakIn, HotterAirShortensThePavedRun) {
    const BreakInPlan cool = plan_for(check_machine("M"), belts(Condition::not_run_in), 10);
    const BreakInPlan hot = plan_for(check_machine("M"), belts(Condition::not_run_in), 35);
    ASSERT_EQ(cool.stages.size(), hot.stages.size());
    for (std::size_t i = 0; i < cool.stages.size(); ++i)
        EXPECT_LE(hot.stages[i].paved_run, cool.stages[i].paved_run);
    EXPECT_LT(hot.stages.back().paved_run, cool.stages.back().paved_run);
}

}  // namespace
}  // namespace loamway
