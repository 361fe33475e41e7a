// SPDX-License-Identifier: Apache-2.0
// Delta coding of the points between the ends of an edge.
#include <gtest/gtest.h>

#include <random>

#include "../../src/region/shape.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using Coded = std::vector<std::uint8_t>;

Coded coded(GeoPoint tail, const std::vector<GeoPoint>& inner) {
    Coded bytes;
    append_shape(bytes, tail, inner);
    return bytes;
}

std::vector<GeoPoint> decoded(const Coded& bytes, GeoPoint tail, bool& failed) {
    std::vector<GeoPoint> points;
    ShapeReader reader(bytes, tail);
    for (GeoPoint p; reader.next(p);)
        points.push_back(p);
    failed = reader.failed();
    return points;
}

TEST(Shape, BytesOfKnownDifferences) {
    // Worked out by hand from the rule in FORMAT.md: +1 -> 2, -1 -> 1, +64 -> 128, -64 -> 127, 0 -> 0.
    EXPECT_EQ(coded({0, 0}, {{1, -1}}), (Coded{2, 1}));
    EXPECT_EQ(coded({0, 0}, {{64, -64}}), (Coded{0x80, 0x01, 0x7f}));
    EXPECT_EQ(coded({5, 5}, {{5, 5}, {6, 5}}), (Coded{0, 0, 2, 0}));
    EXPECT_EQ(coded({1, 2}, {}), Coded{});
    // From -180 to 180 degrees: 3,600,000,000 doubles to 7,200,000,000, which takes five bytes.
    EXPECT_EQ(coded({0, -1800000000}, {{0, 1800000000}}), (Coded{0, 0x80, 0x90, 0x9d, 0xe9, 0x1a}));
}

TEST(Shape, RandomPointsComeBack) {
    std::mt19937 random(7);
    std::uniform_int_distribution<std::int32_t> lat(-900000000, 900000000);
    std::uniform_int_distribution<std::int32_t> lon(-1800000000, 1800000000);
    std::uniform_int_distribution<int> bits(0, 31);
    for (int round = 0; round < 2000; ++round) {
        const GeoPoint tail{lat(random), lon(random)};
        std::vector<GeoPoint> inner;
        for (int i = round % 9; i > 0; --i)
            inner.push_back({lat(random) >> bits(random), lon(random) >> bits(random)});
        bool failed = true;
        EXPECT_EQ(decoded(coded(tail, inner), tail, failed), inner);
        EXPECT_FALSE(failed);
    }
}

TEST(Shape, FaultyBytesEndTheReading) {
    const auto fails = [](const Coded& bytes, GeoPoint tail = {0, 0}) {
        bool failed = false;
        static_cast<void>(decoded(bytes, tail, failed));
        return failed;
    };
    EXPECT_FALSE(fails({2, 2}));
    EXPECT_TRUE(fails({2}));                                      // a latitude without a longitude
    EXPECT_TRUE(fails({2, 0x80}));                                // ends inside a number
    EXPECT_TRUE(fails({0x80, 0x80, 0x80, 0x80, 0x80, 0x01, 0}));  // six bytes
    EXPECT_TRUE(fails({0x80, 0x00, 0}));                          // zero in two bytes
    EXPECT_TRUE(fails({2, 0}, {900000000, 0}));                   // over the pole
    EXPECT_TRUE(fails({0, 1}, {0, -1800000000}));                 // past -180
    EXPECT_TRUE(fails({0xff, 0xff, 0xff, 0xff, 0x7f, 0}));        // as large as five bytes can say
}

TEST(Shape, EdgePointsStartAtTailAndEndAtHead) {
    TinyMap m;
    const NodeId a = m.node(53.5, 13.2);
    const NodeId b = m.node(53.6, 13.3);
    const std::vector<GeoPoint> bend{GeoPoint::from_degrees(53.51, 13.1),
                                     GeoPoint::from_degrees(53.55, 13.4)};
    const EdgeId straight = m.edge(b, a);
    const EdgeId bent = m.road(a, b, {.inner = bend});
    const EdgeId last = m.edge(a, b);
    const RegionData d = m.build();
    const GeoPoint pa = m.point(a);
    const GeoPoint pb = m.point(b);
    EXPECT_EQ(d.view().edge_points(straight), (std::vector<GeoPoint>{pb, pa}));
    EXPECT_EQ(d.view().edge_points(bent), (std::vector<GeoPoint>{pa, bend[0], bend[1], pb}));
    EXPECT_EQ(d.view().edge_points(last), (std::vector<GeoPoint>{pa, pb}));
}

}  // namespace
}  // namespace loamway
