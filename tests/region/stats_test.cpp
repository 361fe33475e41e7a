// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <initializer_list>
#include <span>
#include <utility>

#include "drawn_region.h"
#include "loamway/region/region_stats.h"

namespace loamway {
namespace {

const SurfaceLength& of(const RegionStats& s, SurfaceClass c) {
    return s.surface[static_cast<std::size_t>(c)];
}

TEST(RegionStats, LengthsByClass) {
    // Known: hard 11130, gravel 11131 + 200,000,000, earth 13273 dm. Assumed: 13270 dm at 140/50/10 and
    // 3000 dm at 0/100/100, worked out by hand.
    const RegionStats s = region_stats(test::drawn_region().view());
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::hard).known.metres(), 1113.0);
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::gravel).known.metres(), 20001113.1);
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::earth).known.metres(), 1327.3);
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::hard).assumed.metres(), 928.9);
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::gravel).assumed.metres(), 331.75 + 150.0);
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::earth).assumed.metres(), 66.35 + 150.0);
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::hard).assumed_likeliest.metres(), 1327.0);
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::gravel).assumed_likeliest.metres(), 300.0);
    EXPECT_DOUBLE_EQ(of(s, SurfaceClass::earth).assumed_likeliest.metres(), 0.0);
    double sum = 0;
    for (const SurfaceLength& c : s.surface)
        sum += c.known.metres() + c.assumed.metres();
    EXPECT_NEAR(sum, s.total.metres(), 1e-6);
    EXPECT_DOUBLE_EQ(s.total.metres(), 20001113.1 + 1113.0 + 1327.3 + 1327.0 + 300.0);
}

TEST(RegionStats, CountsComponentsAndBounds) {
    const RegionStats s = region_stats(test::drawn_region().view());
    EXPECT_EQ(s.nodes, 6u);
    EXPECT_EQ(s.edges, 6u);
    EXPECT_EQ(s.arcs, 12u);
    EXPECT_EQ(s.components, 2u);
    ASSERT_EQ(s.largest_components.size(), 2u);
    EXPECT_DOUBLE_EQ(s.largest_components[0].metres(), 20000000.0);
    EXPECT_DOUBLE_EQ(s.largest_components[1].metres(), 5180.4);
    ASSERT_TRUE(s.bounds);
    // From 13.2 degrees east over a point of a shape close to the date line to one on it.
    EXPECT_EQ(s.bounds->south_west, (GeoPoint{-165000000, 132000000}));
    EXPECT_EQ(s.bounds->north_east, (GeoPoint{900000000, -1800000000}));
}

// They were those of a belt round the world, in whose middle the page's map then began.
TEST(RegionStats, BoundsAcrossTheDateLine) {
    const auto bounds = [](std::initializer_list<double> lons) {
        TinyMap m;
        NodeId last = m.node(-16.5, *lons.begin());
        for (const double lon : std::span(lons.begin(), lons.size()).subspan(1)) {
            const NodeId next = m.node(-16.5, lon);
            m.edge(last, next);
            last = next;
        }
        const RegionBounds b = *region_stats(m.build().view()).bounds;
        return std::pair(b.south_west.lon_e7 / 1e7, b.north_east.lon_e7 / 1e7);
    };
    EXPECT_EQ(bounds({179.9, -179.8, -179.9}), std::pair(179.9, -179.8));
    EXPECT_EQ(bounds({180.0, -179.8}), std::pair(180.0, -179.8));
    EXPECT_EQ(bounds({-180.0, 179.5}), std::pair(179.5, -180.0));
    EXPECT_EQ(bounds({-0.5, 0.5}), std::pair(-0.5, 0.5));
    EXPECT_EQ(bounds({-179.9, -179.8}), std::pair(-179.9, -179.8));
    EXPECT_EQ(bounds({170.0, 0.0, -170.0}), std::pair(-170.0, 170.0));
}

TEST(RegionStats, FiveLargestOfManyComponents) {
    TinyMap m;
    for (std::uint32_t i = 0; i < 8; ++i) {
        const NodeId a = m.node(50.0 + i, 10.0);
        const NodeId b = m.node(50.0 + i, 10.01);
        m.road(a, b, {.length_dm = 1000 + 10 * ((i * 5) % 8)});
    }
    const RegionStats s = region_stats(m.build().view());
    EXPECT_EQ(s.components, 8u);
    ASSERT_EQ(s.largest_components.size(), 5u);
    for (std::size_t i = 0; i < 5; ++i)
        EXPECT_DOUBLE_EQ(s.largest_components[i].metres(), 107.0 - static_cast<double>(i));
}

TEST(RegionStats, RegionWithoutRoads) {
    const RegionStats s = region_stats(TinyMap().build().view());
    EXPECT_EQ(s.nodes, 0u);
    EXPECT_EQ(s.components, 0u);
    EXPECT_TRUE(s.largest_components.empty());
    EXPECT_FALSE(s.bounds);
    EXPECT_EQ(s.total, Length{});
}

TEST(RegionStats, RoadsWithHeights) {
    RegionData data = test::drawn_region();
    EXPECT_NEAR(region_stats(data.view()).with_heights.metres(), 1113.0 + 1327.0 + 300.0, 1e-6);
    data.edge_climb.clear();
    data.heights.clear();
    EXPECT_EQ(region_stats(data.view()).with_heights, Length());
}

}  // namespace
}  // namespace loamway
