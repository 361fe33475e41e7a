// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/learnt_heat.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "belt_checks.h"
#include "loamway/base/error.h"

namespace loamway {
namespace {

using ::testing::HasSubstr;
using ::testing::SizeIs;

// The worked update of the check values, H4: machine M, 20 km at 40 km/h in 25 degrees, flank after 300 s.
NotedReading worked() {
    NotedReading r;
    r.run = Length::from_km(20);
    r.speed = Speed::from_kmh(40);
    r.air = Temperature::from_celsius(25);
    r.after_stop = Duration::from_minutes(5);
    r.value = Temperature::from_celsius(61);
    r.place = {"m.toml", 7, {}};
    return r;
}

TEST(LearntHeat, one_reading_gives_the_worked_update) {
    const KnownHeat k = learn_heat(test::check_machine("M"), {worked()});
    const Value& h4 = test::section("H4_worked_IR_update");
    ASSERT_TRUE(k.calibrated());
    EXPECT_NEAR(k.scale, test::number(h4, "Sq"), 2e-3);
    EXPECT_NEAR(k.log_sd, test::number(h4, "sd_ln_Sq"), 1e-3);
    EXPECT_NEAR(k.core_sd_k, 5.8, 0.7);  // joint; about 5 K for one good flank reading
    EXPECT_THAT(k.refused, SizeIs(0));
}

TEST(LearntHeat, the_same_reading_twice_weighs_double_but_the_core_stays) {
    const Machine m = test::check_machine("M");
    const KnownHeat one = learn_heat(m, {worked()}), two = learn_heat(m, {worked(), worked()});
    const double prior = 1 / 0.16, w = 1 / (one.log_sd * one.log_sd) - prior;
    EXPECT_NEAR(1 / (two.log_sd * two.log_sd), prior + 2 * w, 1e-6);
    EXPECT_GT(two.scale, one.scale);  // less of the prior, which pulls to one
    EXPECT_EQ(two.core_sd_k, one.core_sd_k);
    EXPECT_THAT(two.notes, SizeIs(0));
}

// Two readings far apart used to narrow the band as two that agree do.
TEST(LearntHeat, readings_far_apart_are_told_and_settle_nothing) {
    NotedReading cool = worked();
    cool.value = Temperature::from_celsius(45);
    const Machine m = test::check_machine("M");
    const KnownHeat k = learn_heat(m, {worked(), cool});
    EXPECT_FALSE(k.calibrated());
    EXPECT_EQ(k.log_sd, KnownHeat().log_sd);
    EXPECT_GE(k.scale, 1.0);
    ASSERT_THAT(k.notes, SizeIs(1));
    EXPECT_THAT(k.notes[0], HasSubstr("2 readings contradict each other"));
    EXPECT_THAT(k.notes[0], HasSubstr("crown"));
    NotedReading hot = worked();
    hot.value = Temperature::from_celsius(85);
    EXPECT_GT(learn_heat(m, {hot, worked()}).scale, 1.2)
        << "what they say together is hotter than was assumed";
}

TEST(LearntHeat, refused_readings_say_where_and_why_and_teach_nothing) {
    const Machine m = test::check_machine("M");
    NotedReading late = worked(), tip = worked(), wild = worked();
    late.after_stop = Duration::from_minutes(25);
    tip.tip = true;
    wild.value = Temperature::from_celsius(190);
    const KnownHeat none = learn_heat(m, {late, tip, wild});
    EXPECT_FALSE(none.calibrated());
    EXPECT_EQ(none.scale, 1.0);
    EXPECT_EQ(none.log_sd, 0.4);
    ASSERT_THAT(none.refused, SizeIs(3));
    EXPECT_THAT(none.refused[0], HasSubstr("m.toml:7: read 25 minutes after the stop"));
    EXPECT_THAT(none.refused[1], HasSubstr("tip just after a paved road"));
    const KnownHeat one = learn_heat(m, {late, worked()});
    EXPECT_EQ(one.used, 1);
    EXPECT_EQ(one.scale, learn_heat(m, {worked()}).scale);
    NotedReading other = worked();
    other.state = "no such state";
    EXPECT_THROW((void)learn_heat(m, {other}), Error);
}

}  // namespace
}  // namespace loamway
