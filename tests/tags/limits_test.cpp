// SPDX-License-Identifier: Apache-2.0
// The vehicle against posted limits, and posted speeds.

#include <gtest/gtest.h>

#include "loamway/tags/limits.h"
#include "support/tag_samples.h"

namespace loamway {
namespace {

std::vector<LimitFinding> limits(const TagView& tags, const VehicleView& vehicle = test::sample_machine(),
                                 Direction direction = Direction::forward,
                                 const Moment& moment = test::sample_moment()) {
    return read_limits(tags, vehicle, direction, moment);
}

// "allow", or the passage of the only finding.
std::string_view passage(const TagView& tags, const VehicleView& vehicle = test::sample_machine(),
                         Direction direction = Direction::forward) {
    const std::vector<LimitFinding> found = limits(tags, vehicle, direction);
    EXPECT_LE(found.size(), 1u);
    return found.empty() ? "allow" : name_of(found.front().passage);
}

VehicleView with_height(double metres) {
    VehicleView v = test::sample_machine();
    v.height = Length::from_metres(metres);
    return v;
}

TEST(Limits, Mass) {
    EXPECT_EQ(passage({{"maxweight", "18"}}), "allow");
    EXPECT_EQ(passage({{"maxweight", "17.9"}}), "deny");
    EXPECT_EQ(passage({{"maxweight", "none"}}), "allow");
    EXPECT_EQ(passage({{"maxweight", "no"}}), "check");
    EXPECT_EQ(passage({{"maxweight", "26T mgw"}}), "check");
    EXPECT_EQ(passage({{"maxweight", "150"}}), "check");  // hard to believe, so not taken for "no limit"
    EXPECT_EQ(passage({{"maxweight", "default"}}), "allow");
    EXPECT_EQ(limits({{"maxweight", "16"}}).front().text, "maxweight 16 t, vehicle 18.00 t");
    EXPECT_EQ(limits({{"maxweight", "13000 lbs"}}).front().text,
              "maxweight \"13000 lbs\" read as 5.9 t, vehicle 18.00 t");
    EXPECT_EQ(limits({{"maxweight", "26T mgw"}}).front().text,
              "maxweight \"26T mgw\" cannot be read (perhaps 26 t), vehicle 18.00 t");
}

TEST(Limits, PermittedMass) {
    EXPECT_EQ(passage({{"maxweightrating", "7.5"}}), "deny");
    // The vehicle fits as it stands, its papers may say more.
    EXPECT_EQ(passage({{"maxweightrating", "26"}}), "check");
    EXPECT_EQ(limits({{"maxweightrating", "26"}}).front().text,
              "maxweightrating 26 t permitted mass: check, vehicle 18.00 t as it stands");
    EXPECT_EQ(passage({{"maxweightrating", "none"}}), "allow");
}

TEST(Limits, KeysOfAVehicleClass) {
    EXPECT_EQ(passage({{"maxweight:hgv", "7.5"}}), "allow");
    EXPECT_EQ(passage({{"maxweight:hgv", "7.5"}}, test::sample_truck()), "deny");
    EXPECT_EQ(passage({{"maxweight", "7.5"}, {"maxweight:agricultural", "20"}}), "allow");
    EXPECT_EQ(passage({{"maxweight", "7.5"}, {"maxweight:agricultural", "20"}},
                      test::sample_machine_not_agricultural()),
              "deny");
}

TEST(Limits, TracksHaveNoAxles) {
    for (const char* raw : {"20", "2", "light"})
        EXPECT_EQ(passage({{"maxaxleload", raw}}), "check") << raw;
    EXPECT_EQ(passage({{"maxaxleload", "none"}}), "allow");
    EXPECT_EQ(limits({{"maxaxleload", "8"}}).front().text,
              "maxaxleload \"8\": tracks have no axles; most loaded track axle 10.00 t, 5.00 t a track unit");
    EXPECT_EQ(passage({{"maxaxleload", "9"}}, test::sample_truck()), "allow");
    EXPECT_EQ(passage({{"maxaxleload", "8"}}, test::sample_truck()), "deny");
    EXPECT_EQ(passage({{"maxbogieweight", "30"}}, test::sample_truck()), "check");
    EXPECT_EQ(passage({{"maxbogieweight", "30"}}), "check");
}

TEST(Limits, HeightWithMargin) {
    EXPECT_EQ(passage({{"maxheight", "3.7"}}), "allow");  // 3.60 + 0.10 to the last bit
    EXPECT_EQ(passage({{"maxheight", "3.69"}}), "deny");
    EXPECT_EQ(limits({{"maxheight", "3.65"}}).front().text,
              "maxheight 3.65 m, vehicle 3.60 m + 0.10 m margin");
    EXPECT_EQ(passage({{"maxheight", "380"}}), "check");
    EXPECT_EQ(passage({{"maxheight", "physical"}}), "check");
    EXPECT_EQ(passage({{"maxheight", "no_indications"}}), "check");
}

TEST(Limits, TheLowerOfPostedAndMeasured) {
    EXPECT_EQ(passage({{"maxheight", "4"}, {"maxheight:physical", "3.5"}}), "deny");
    EXPECT_EQ(passage({{"maxheight", "3.5"}, {"maxheight:physical", "4"}}), "deny");
    EXPECT_EQ(passage({{"maxheight:physical", "4"}}), "allow");
    EXPECT_EQ(limits({{"maxheight", "4"}, {"maxheight:physical", "3.5"}}).front().key, "maxheight:physical");
    EXPECT_EQ(passage({{"maxwidth", "3.5"}, {"maxwidth:physical", "3"}}), "deny");
}

TEST(Limits, HeightsWithoutAFigure) {
    EXPECT_EQ(passage({{"maxheight", "default"}}), "allow");
    EXPECT_EQ(passage({{"maxheight", "default"}}, with_height(4.2)), "check");
    EXPECT_EQ(passage({{"maxheight", "below_default"}}), "check");
    EXPECT_EQ(passage({{"maxheight", "below_default"}}, with_height(4.0)), "deny");
}

TEST(Limits, LengthAndWidth) {
    EXPECT_EQ(passage({{"maxwidth", "3.1"}}), "allow");
    EXPECT_EQ(passage({{"maxwidth", "3"}}), "deny");
    EXPECT_EQ(passage({{"maxlength", "7"}}), "allow");
    EXPECT_EQ(passage({{"maxlength", "6.5"}}), "deny");
}

TEST(Limits, UnknownMeasuresAreAQuestion) {
    for (const char* key : {"maxweight", "maxweightrating", "maxheight", "maxwidth", "maxlength"})
        EXPECT_EQ(passage({{key, "20"}}, VehicleView()), "check") << key;
    EXPECT_EQ(passage({{"maxheight", "default"}}, VehicleView()), "check");
    EXPECT_EQ(limits({{"maxwidth", "3"}}, VehicleView()).front().text,
              "maxwidth 3 m, the vehicle's measure is not known");
}

TEST(Limits, DirectionsAndHours) {
    const TagView one_way_down{{"maxheight:backward", "3"}};
    EXPECT_EQ(passage(one_way_down), "allow");
    EXPECT_EQ(passage(one_way_down, test::sample_machine(), Direction::backward), "deny");
    EXPECT_EQ(passage({{"maxweight:conditional", "7.5 @ (Nov-Mar)"}}), "deny");
    EXPECT_EQ(passage({{"maxweight", "7.5"}, {"maxweight:conditional", "none @ (Nov-Mar)"}}), "allow");
    EXPECT_EQ(passage({{"maxweight:conditional", "7.5 @ (Jun)"}}), "allow");
    EXPECT_EQ(passage({{"maxweight:conditional", "7.5 @ (thaw)"}}), "check");
    EXPECT_EQ(limits({{"maxweight:conditional", "7.5 @ (thaw)"}}).front().text,
              "maxweight at some times: verify:7.5 @ thaw");
}

TEST(Limits, SeveralAtOnce) {
    const std::vector<LimitFinding> found =
        limits({{"maxheight", "3"}, {"maxweight", "3.5"}, {"maxwidth", "9"}, {"maxspeed", "30"}});
    ASSERT_EQ(found.size(), 2u);
    EXPECT_EQ(found[0].key, "maxweight");
    EXPECT_EQ(found[1].key, "maxheight");
}

std::optional<double> speed(const TagView& tags, const VehicleView& vehicle = test::sample_machine(),
                            Direction direction = Direction::forward) {
    const std::optional<Speed> s = posted_speed(tags, direction, vehicle, test::sample_moment());
    return s ? std::optional(s->kmh()) : std::nullopt;
}

TEST(PostedSpeed, Figures) {
    EXPECT_DOUBLE_EQ(speed({{"maxspeed", "50"}}).value(), 50.0);
    EXPECT_NEAR(speed({{"maxspeed", "30 mph"}}).value(), 48.28032, 1e-9);
    EXPECT_NEAR(speed({{"maxspeed", "walk"}}).value(), 7.0, 1e-9);
    EXPECT_FALSE(speed({{"highway", "primary"}}));
    EXPECT_FALSE(speed({{"maxspeed", "DE:rural"}}));
    EXPECT_FALSE(speed({{"maxspeed", "none"}}));
    EXPECT_FALSE(speed({{"maxspeed", "signals"}}));
    EXPECT_FALSE(speed({{"maxspeed", "quick"}}));
    EXPECT_FALSE(speed({{"maxspeed", "0"}}));
}

TEST(PostedSpeed, LivingStreet) {
    EXPECT_NEAR(speed({{"highway", "living_street"}}).value(), 7.0, 1e-9);
    EXPECT_NEAR(speed({{"highway", "living_street"}, {"maxspeed", "DE:living_street"}}).value(), 7.0, 1e-9);
    EXPECT_NEAR(speed({{"highway", "living_street"}, {"maxspeed", "20"}}).value(), 20.0, 1e-9);
}

TEST(PostedSpeed, ClassDirectionAndHour) {
    const TagView road{{"maxspeed", "100"}, {"maxspeed:hgv", "60"}, {"maxspeed:backward", "70"}};
    EXPECT_NEAR(speed(road).value(), 100.0, 1e-9);
    EXPECT_NEAR(speed(road, test::sample_truck()).value(), 60.0, 1e-9);
    EXPECT_NEAR(speed(road, test::sample_machine(), Direction::backward).value(), 70.0, 1e-9);
    EXPECT_NEAR(speed({{"maxspeed", "50"}, {"maxspeed:conditional", "30 @ (Mo-Fr 07:00-17:00)"}}).value(),
                30.0, 1e-9);
    EXPECT_NEAR(speed({{"maxspeed", "50"}, {"maxspeed:agricultural", "25"}}).value(), 25.0, 1e-9);
}

}  // namespace
}  // namespace loamway
