// SPDX-License-Identifier: Apache-2.0
// Rings that touch and cross themselves become valid polygons of the same even-odd area.
#include "tile_rings.h"

#include <gtest/gtest.h>
#include <ogr_api.h>
#include <ogr_geometry.h>

#include <memory>
#include <random>

namespace loamway {
namespace {

OGRLinearRing ring_of(const TileLine& points) {
    OGRLinearRing out;
    for (const TilePoint p : points)
        out.addPoint(p.x, p.y);
    out.closeRings();
    return out;
}
OGRMultiPolygon shape_of(const std::vector<TilePolygon>& polygons) {
    OGRMultiPolygon out;
    for (const TilePolygon& p : polygons) {
        OGRPolygon one;
        OGRLinearRing outer = ring_of(p.outer);
        one.addRing(&outer);
        for (const TileLine& hole : p.holes) {
            OGRLinearRing inner = ring_of(hole);
            one.addRing(&inner);
        }
        out.addGeometry(&one);
    }
    return out;
}
void expect_oriented(const std::vector<TilePolygon>& polygons) {
    for (const TilePolygon& p : polygons) {
        EXPECT_GT(twice_area(p.outer), 0);
        for (const TileLine& hole : p.holes)
            EXPECT_LT(twice_area(hole), 0);
    }
}

TEST(ValidPolygons, PlainRingsStayAsTheyAre) {
    const TileLine square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    const auto same = valid_polygons(square);
    ASSERT_EQ(same.size(), 1u);
    EXPECT_EQ(same[0].outer, square);
    const auto turned = valid_polygons({{0, 0}, {0, 10}, {10, 10}, {10, 0}});
    ASSERT_EQ(turned.size(), 1u);
    EXPECT_EQ(twice_area(turned[0].outer), 200);
}

TEST(ValidPolygons, NothingIsNoPolygon) {
    EXPECT_TRUE(valid_polygons({}).empty());
    EXPECT_TRUE(valid_polygons({{1, 1}, {5, 5}}).empty());
    EXPECT_TRUE(valid_polygons({{0, 0}, {10, 0}, {20, 0}, {5, 0}}).empty()) << "to and fro on one line";
}

TEST(ValidPolygons, ABowTieIsTwoAreas) {
    const auto two = valid_polygons({{0, 0}, {10, 10}, {10, 0}, {0, 10}});
    ASSERT_EQ(two.size(), 2u);
    EXPECT_EQ(twice_area(two[0].outer) + twice_area(two[1].outer), 100);
}

TEST(ValidPolygons, ASideRunToAndFroParts) {
    // Two fields of one ring, joined by a way along the tile's side and back.
    const auto two =
        valid_polygons({{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 30}, {10, 30}, {10, 40}, {0, 40}});
    ASSERT_EQ(two.size(), 2u);
    EXPECT_EQ(twice_area(two[0].outer), 200);
    EXPECT_EQ(twice_area(two[1].outer), 200);
}

TEST(ValidPolygons, AHoleByASlitIsAHole) {
    const auto one = valid_polygons(
        {{0, 0}, {30, 0}, {30, 30}, {0, 30}, {0, 10}, {10, 10}, {10, 20}, {20, 20}, {20, 10}, {0, 10}});
    ASSERT_EQ(one.size(), 1u);
    ASSERT_EQ(one[0].holes.size(), 1u);
    EXPECT_EQ(twice_area(one[0].outer), 1800);
    EXPECT_EQ(twice_area(one[0].holes[0]), -200);
}

TEST(ValidPolygons, TangledRingsKeepTheirArea) {
    std::mt19937 random(7);
    for (int round = 0; round < 90; ++round) {
        // Small squares force many touching corners, large ones many crossings.
        const std::uint32_t side = round % 3 == 0 ? 12 : 4000;
        TileLine ring(3 + random() % 40);
        for (TilePoint& p : ring)
            p = {static_cast<std::int32_t>(random() % side), static_cast<std::int32_t>(random() % side)};
        const auto polygons = valid_polygons(ring);
        expect_oriented(polygons);
        const OGRMultiPolygon shape = shape_of(polygons);
        EXPECT_TRUE(shape.IsValid()) << round;
        OGRPolygon tangled;
        OGRLinearRing r = ring_of(ring);
        tangled.addRing(&r);
        const std::unique_ptr<OGRGeometry> even_odd(tangled.MakeValid());
        // Crossings move by up to half a unit, and with them the lines.
        EXPECT_NEAR(shape.get_Area(), OGR_G_Area(OGRGeometry::ToHandle(even_odd.get())), 1.5 * r.get_Length())
            << round;
    }
}

}  // namespace
}  // namespace loamway
