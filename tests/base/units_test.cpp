// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/units.h"

#include <gtest/gtest.h>

#include "loamway/base/ids.h"
#include "loamway/base/surface.h"

namespace loamway {
namespace {

TEST(units, each_unit_is_entered_and_left_by_name) {
    EXPECT_DOUBLE_EQ(Length::from_km(1.5).metres(), 1500.0);
    EXPECT_DOUBLE_EQ(Length::from_mm(45.0).metres(), 0.045);
    EXPECT_DOUBLE_EQ(Length::from_decimetres(12345).metres(), 1234.5);
    EXPECT_DOUBLE_EQ(Duration::from_hours(1.5).minutes(), 90.0);
    EXPECT_DOUBLE_EQ(Speed::from_kmh(36.0).mps(), 10.0);
    EXPECT_DOUBLE_EQ(Mass::from_tonnes(18.5).kg(), 18500.0);
}

TEST(units, arithmetic_across_units) {
    EXPECT_DOUBLE_EQ((Speed::from_kmh(30.0) * Duration::from_minutes(20.0)).km(), 10.0);
    EXPECT_DOUBLE_EQ((Length::from_km(15.0) / Speed::from_kmh(30.0)).minutes(), 30.0);
    EXPECT_DOUBLE_EQ(Length::from_km(3.0) / Length::from_metres(1500.0), 2.0);
    Length sum = Length::from_km(1.0);
    sum += Length::from_metres(250.0);
    sum -= Length::from_metres(50.0);
    EXPECT_DOUBLE_EQ(sum.metres(), 1200.0);
    EXPECT_LT(Length::from_metres(999.0), Length::from_km(1.0));
}

TEST(ids, none_by_default_and_ordered) {
    EXPECT_TRUE(NodeId().is_none());
    EXPECT_FALSE(NodeId(0u).is_none());
    EXPECT_EQ(ArcId(std::size_t{7}).index(), 7u);
    EXPECT_LT(EdgeId(1u), EdgeId(2u));
}

// The numbers stand in region files: changing one makes old files lie.
TEST(surface, numbers_and_names_are_frozen) {
    EXPECT_EQ(static_cast<int>(SurfaceClass::hard), 0);
    EXPECT_EQ(static_cast<int>(SurfaceClass::gravel), 1);
    EXPECT_EQ(static_cast<int>(SurfaceClass::earth), 2);
    EXPECT_EQ(name_of(SurfaceClass::gravel), "gravel");
    EXPECT_EQ(probability_steps, 200u);
}

TEST(surface, hard_from_one_half_on_else_the_likelier) {
    EXPECT_EQ((SurfaceOdds{100, 100, 0}.likeliest()), SurfaceClass::hard);
    EXPECT_EQ((SurfaceOdds{99, 1, 100}.likeliest()), SurfaceClass::earth);
    EXPECT_EQ((SurfaceOdds{99, 51, 50}.likeliest()), SurfaceClass::gravel);
    EXPECT_EQ((SurfaceOdds{0, 100, 100}.likeliest()), SurfaceClass::gravel);
}

}  // namespace
}  // namespace loamway
