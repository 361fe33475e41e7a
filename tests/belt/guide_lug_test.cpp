// SPDX-License-Identifier: Apache-2.0
// Guide lugs: sections E1 and E2 of tests/belt/data/belt.json, worked out independently on assumptions of
// this project; there is no published source for them.
#include "loamway/belt/guide_lug.h"

#include <gtest/gtest.h>

#include <map>

#include "belt_checks.h"

namespace loamway {
namespace {

using test::check_model;
using test::driving;
using test::number;
using test::word;

constexpr double last_digit = 0.0051;

GuideLug lug_of(const std::string& machine) {
    return GuideLug(check_model(machine).belt());
}

TEST(GuideLug, steps_match_their_checks) {
    const Length fresh, worn_off = Length::from_km(15);
    // "Worn" in the checks is a belt of 500 hours.
    const std::map<std::string, GuideLugState> states{
        {"fresh lubricant, worn belt", {fresh, 500, Ground::dry}},
        {"15 km since lubricant, worn belt", {worn_off, 500, Ground::dry}},
        {"dry, worn belt", {std::nullopt, 500, Ground::dry}},
        {"dry, new belt (5 h)", {std::nullopt, 5, Ground::dry}},
        {"dusty road, worn belt", {std::nullopt, 500, Ground::dusty}},
    };
    const Value::Array& list = test::rows("E1_lug");
    ASSERT_EQ(list.size(), 10u);
    for (const Value& r : list) {
        SCOPED_TRACE(to_json(r));
        const Value &in = *r.find("inputs"), &out = *r.find("expected");
        const GuideLug lug = lug_of(word(in, "machine"));
        const Driving d = driving(RoadSurface::asphalt, number(in, "v_kmh"), number(in, "T_air"));
        const double mu = lug.friction(states.at(word(in, "state")));
        EXPECT_NEAR(mu, number(out, "mu"), 5.1e-6);
        EXPECT_NEAR(lug.heat_w(mu, d.surface, d.speed), number(out, "Q_W"), last_digit);
        EXPECT_NEAR(lug.loss_w_per_k(d.speed), number(out, "UA"), 5.1e-4);
        EXPECT_NEAR(lug.time_constant(d.speed).seconds(), number(out, "tau_s"), 0.051);
        EXPECT_NEAR(lug.settled(mu, d).celsius(), number(out, "T_steady"), last_digit);
        EXPECT_NEAR(lug.advance(d.air, mu, d, Duration::from_minutes(15)).celsius(),
                    number(out, "T_after_15min"), last_digit);
    }
}

TEST(GuideLug, long_drives_match_their_checks) {
    const Value::Array& list = test::rows("E2_lug_45km_40kmh_30C");
    ASSERT_EQ(list.size(), 4u);
    for (const Value& r : list) {
        SCOPED_TRACE(to_json(r));
        const GuideLug lug = lug_of(word(r, "machine"));
        const Driving d = driving(RoadSurface::asphalt, 40, 30);
        const bool relube = *r.find("relub_every_15km")->as_bool();
        GuideLugState state{std::nullopt, number(r, "hours"), Ground::dry};
        Temperature t = d.air, peak = d.air;
        for (int leg = 0; leg < 3; ++leg) {
            if (relube)
                state.since_lube = Length{};
            t = lug.drive(t, state, d, test::time_for(15, 40));
            peak = std::max(peak, t);
        }
        EXPECT_NEAR(t.celsius(), number(r, "T_end"), last_digit);
        EXPECT_NEAR(peak.celsius(), number(r, "T_peak"), last_digit);
        if (relube) {
            EXPECT_NEAR(state.since_lube->km(), 15, 1e-9);
        }
    }
}

TEST(GuideLug, exact_steps_can_be_split) {
    const GuideLug lug = lug_of("S");
    const Driving d = driving(RoadSurface::gravel, 25, 12);
    const Temperature start = Temperature::from_celsius(40);
    const Temperature whole = lug.advance(start, 0.5, d, Duration::from_seconds(700));
    const Temperature part = lug.advance(start, 0.5, d, Duration::from_seconds(130));
    EXPECT_NEAR(lug.advance(part, 0.5, d, Duration::from_seconds(570)).celsius(), whole.celsius(), 1e-10);
}

TEST(GuideLug, cools_to_the_air_while_standing) {
    const GuideLug lug = lug_of("M");
    GuideLugState state{Length::from_km(3), std::nullopt, Ground::dry};
    const Driving still = driving(RoadSurface::asphalt, 0, 18);
    const Temperature t = lug.drive(Temperature::from_celsius(80), state, still, Duration::from_hours(10));
    EXPECT_NEAR(t.celsius(), 18, 1e-6);
    EXPECT_DOUBLE_EQ(state.since_lube->km(), 3);
}

TEST(GuideLug, the_next_lubrication_comes_where_the_settled_heat_reaches_the_caution) {
    const GuideLug lug = lug_of("L");
    const Driving d = driving(RoadSurface::gravel, 40, 35);
    GuideLugState state{Length{}, 5, Ground::dry};
    const Length next = lug.next_lube(state, d);
    ASSERT_GT(next.km(), 0.5);
    ASSERT_LT(next.km(), 15);
    state.since_lube = next;
    EXPECT_NEAR(lug.settled(lug.friction(state), d).celsius(), lug.parameters().caution.celsius(), 1e-9);
}

TEST(GuideLug, never_later_than_the_longest_interval_and_not_at_all_where_powder_does_not_help) {
    const GuideLug lug = lug_of("M");
    const GuideLugState fresh{Length{}, 500, Ground::dry};
    EXPECT_EQ(lug.next_lube(fresh, driving(RoadSurface::asphalt, 25, 10)).km(), 15);
    EXPECT_EQ(lug.next_lube(fresh, driving(RoadSurface::asphalt, 0, 10)).km(), 15);
    EXPECT_EQ(lug.next_lube(fresh, driving(RoadSurface::asphalt, 40, 79)).km(), 0);
    const GuideLugState wet{Length{}, 5, Ground::wet};
    EXPECT_EQ(lug.next_lube(wet, driving(RoadSurface::gravel, 40, 40)).km(), 15);
}

TEST(GuideLug, friction_by_ground) {
    const GuideLug lug = lug_of("M");
    EXPECT_DOUBLE_EQ(lug.friction({std::nullopt, 5, Ground::wet}), 0.30);
    EXPECT_DOUBLE_EQ(lug.friction({std::nullopt, 5, Ground::dusty}), 0.40);
    EXPECT_DOUBLE_EQ(lug.friction({std::nullopt, std::nullopt, Ground::frozen}), 0.60);
    EXPECT_DOUBLE_EQ(lug.friction({Length{}, 5, Ground::moist}), 0.25);
}

}  // namespace
}  // namespace loamway
