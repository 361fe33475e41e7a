// SPDX-License-Identifier: Apache-2.0
// The tools under the build, against slow and plain ways to the same answer.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "../../src/build/area_index.h"
#include "../../src/build/area_rings.h"
#include "../../src/build/cell_grid.h"
#include "../../src/build/hilbert.h"
#include "../../src/build/node_store.h"
#include "../../src/build/ref_store.h"
#include "loamway/build/build.h"

namespace loamway {
namespace {

using testing::ElementsAre;

std::mt19937 seeded(unsigned seed) {
    return std::mt19937(seed);
}

int pick(std::mt19937& random, std::int64_t low, std::int64_t high) {
    return static_cast<int>(low +
                            static_cast<std::int64_t>(random() % static_cast<std::uint64_t>(high - low + 1)));
}

TEST(LocalPlane, MeasuresLikeTheEllipsoidOverShortDistances) {
    std::mt19937 random = seeded(1);
    for (int i = 0; i < 2000; ++i) {
        const GeoPoint a{pick(random, -700'000'000, 700'000'000),
                         pick(random, -1'700'000'000, 1'700'000'000)};
        const GeoPoint b{a.lat_e7 + pick(random, -20'000, 20'000), a.lon_e7 + pick(random, -20'000, 20'000)};
        const double exact = distance(a, b).metres();
        EXPECT_NEAR(LocalPlane(a).distance(a, b), exact, 0.001 * exact + 0.01);
    }
}

TEST(LocalPlane, ProjectsLikeTheEllipsoid) {
    std::mt19937 random = seeded(2);
    for (int i = 0; i < 500; ++i) {
        const auto near = [&] {
            return GeoPoint{535'000'000 + pick(random, -9'000, 9'000),
                            132'000'000 + pick(random, -9'000, 9'000)};
        };
        const GeoPoint p = near(), a = near(), b = near();
        double fraction = 0.0;
        const double d = LocalPlane(p).distance(p, a, b, fraction);
        const Projection exact = project(p, a, b);
        EXPECT_NEAR(d, exact.distance.metres(), 0.05);
        EXPECT_NEAR(fraction, exact.fraction, 0.01);
    }
}

TEST(CellGrid, FindsEveryItemThatABoxTouches) {
    std::mt19937 random = seeded(3);
    for (const std::int64_t cell : {700, 5'000, 100'000}) {
        std::vector<MapBox> boxes;
        MapBox bounds;
        for (int i = 0; i < 300; ++i) {
            const GeoPoint a{pick(random, 0, 50'000), pick(random, 0, 80'000)};
            const GeoPoint b{a.lat_e7 + pick(random, 0, 4'000), a.lon_e7 + pick(random, 0, 4'000)};
            boxes.push_back(MapBox::of(a, b));
            bounds.add(a);
            bounds.add(b);
        }
        CellGrid grid;
        grid.fill(bounds, cell, 3'000, 300, [&](std::uint32_t i, auto visit) { visit(boxes[i]); });
        EXPECT_LE(grid.rows() * grid.columns(), 3'000);
        EXPECT_GE(grid.cell(), cell);
        for (int q = 0; q < 200; ++q) {
            const GeoPoint a{pick(random, -9'000, 60'000), pick(random, -9'000, 90'000)};
            const GeoPoint b{a.lat_e7 + pick(random, 0, 3'000), a.lon_e7 + pick(random, 0, 3'000)};
            const MapBox asked = MapBox::of(a, b);
            std::set<std::uint32_t> found;
            grid.visit(asked, [&](std::uint32_t i) { found.insert(i); });
            for (std::uint32_t i = 0; i < boxes.size(); ++i) {
                const bool touches = boxes[i].min_lat <= asked.max_lat && boxes[i].max_lat >= asked.min_lat &&
                                     boxes[i].min_lon <= asked.max_lon && boxes[i].max_lon >= asked.min_lon;
                EXPECT_TRUE(!touches || found.contains(i)) << "item " << i << ", cells of " << grid.cell();
            }
        }
    }
}

TEST(CellGrid, ListsAnItemOnceInACellHoweverManyBoxesItHas) {
    CellGrid grid;
    const MapBox unit = MapBox::of({0, 0}, {99, 99});
    grid.fill(unit, 10, 1'000, 2, [&](std::uint32_t, auto visit) {
        visit(unit);
        visit(MapBox::of({5, 5}, {25, 25}));
    });
    EXPECT_EQ(grid.items().size(), 2u * 100u);
    EXPECT_EQ(grid.first().size(), 101u);
}

TEST(CellGrid, LongItemsWidenTheCellsInsteadOfFillingTheMemory) {
    CellGrid grid;
    const MapBox globe = MapBox::of({-900'000'000, -1'800'000'000}, {900'000'000, 1'800'000'000});
    grid.fill(globe, 45'000, 4'000'000, 2'000, [&](std::uint32_t, auto visit) { visit(globe); });
    EXPECT_LE(grid.items().size(), 100'000u);
    EXPECT_LE(grid.cell(), INT32_MAX);
    std::set<std::uint32_t> found;
    grid.visit(MapBox::of({1, 1}, {1, 1}), [&](std::uint32_t i) { found.insert(i); });
    EXPECT_EQ(found.size(), 2'000u);
}

TEST(CellGrid, WithoutItemsThereIsNothingToFind) {
    CellGrid grid;
    grid.fill(MapBox(), 1'000, 1'000, 0, [](std::uint32_t, auto) {});
    int visits = 0;
    grid.visit(MapBox::of({0, 0}, {1, 1}), [&](std::uint32_t) { ++visits; });
    EXPECT_EQ(visits, 0);
}

/// Crossing test over all sides, in floating point.
bool inside_slowly(const std::vector<std::vector<GeoPoint>>& rings, GeoPoint p) {
    bool inside = false;
    for (const auto& ring : rings)
        for (std::size_t i = 1; i < ring.size(); ++i) {
            const double ay = ring[i - 1].lat_e7, by = ring[i].lat_e7;
            const double ax = ring[i - 1].lon_e7, bx = ring[i].lon_e7;
            if ((ay > p.lat_e7) != (by > p.lat_e7) && p.lon_e7 < ax + (p.lat_e7 - ay) / (by - ay) * (bx - ax))
                inside = !inside;
        }
    return inside;
}

std::vector<GeoPoint> star(std::mt19937& random, GeoPoint middle, int corners, int reach) {
    std::vector<GeoPoint> ring;
    for (int i = 0; i < corners; ++i) {
        const double angle = 6.283185307 * i / corners;
        const double radius = pick(random, reach / 4, reach);
        ring.push_back({middle.lat_e7 + static_cast<int>(radius * std::sin(angle)),
                        middle.lon_e7 + static_cast<int>(radius * std::cos(angle))});
    }
    ring.push_back(ring.front());
    return ring;
}

TEST(AreaIndex, AgreesWithATestOfEverySide) {
    std::mt19937 random = seeded(4);
    for (int round = 0; round < 20; ++round) {
        AreaIndex index;
        std::vector<std::vector<std::vector<GeoPoint>>> areas;
        for (int a = 0; a < 12; ++a) {
            const GeoPoint middle{pick(random, 0, 1'000'000), pick(random, 0, 1'000'000)};
            areas.push_back({star(random, middle, pick(random, 3, 200), 150'000)});
            if (a % 3 == 0)
                areas.back().push_back(star(random, middle, 12, 30'000));  // a hole
            index.begin_area();
            for (const auto& ring : areas.back())
                index.add_ring(ring);
        }
        index.finish();
        EXPECT_EQ(index.size(), 12u);
        for (int q = 0; q < 500; ++q) {
            const GeoPoint p{pick(random, -200'000, 1'200'000), pick(random, -200'000, 1'200'000)};
            const bool expected =
                std::ranges::any_of(areas, [&](const auto& rings) { return inside_slowly(rings, p); });
            EXPECT_EQ(index.contains(p), expected) << p.lat_e7 << " " << p.lon_e7;
        }
    }
}

TEST(AreaIndex, ACombOfLongTeethStaysSmallAndRight) {
    std::vector<GeoPoint> comb;
    constexpr int teeth = 20'000;
    for (int i = 0; i < teeth; ++i) {
        comb.push_back({0, i * 100});
        comb.push_back({1'000'000, i * 100 + 50});
    }
    comb.push_back({-1'000, teeth * 100});
    comb.push_back({-1'000, 0});
    comb.push_back(comb.front());
    AreaIndex index;
    index.begin_area();
    index.add_ring(comb);
    index.finish();
    EXPECT_TRUE(index.contains({-500, 1'000}));
    EXPECT_TRUE(index.contains({500'000, 10'050}));
    EXPECT_FALSE(index.contains({999'000, 10'000}));
    EXPECT_FALSE(index.contains({1'000'001, 10'050}));
}

TEST(AreaIndex, EmptyContainsNothing) {
    AreaIndex index;
    index.begin_area();
    index.finish();
    EXPECT_FALSE(index.contains({0, 0}));
}

JoinedRings join(const std::vector<NodeList>& pieces) {
    std::vector<std::span<const std::uint32_t>> spans(pieces.begin(), pieces.end());
    return join_rings(spans);
}

TEST(AreaRings, JoinsPiecesInAnyOrderAndDirection) {
    const JoinedRings r = join({{1, 2, 3}, {5, 4, 3}, {5, 6, 1}});
    EXPECT_EQ(r.unclosed, 0);
    EXPECT_THAT(r.rings, ElementsAre(NodeList{1, 2, 3, 4, 5, 6, 1}));
}

TEST(AreaRings, KeepsClosedPiecesApart) {
    const JoinedRings r = join({{1, 2, 3, 1}, {7, 8, 9, 7}});
    EXPECT_THAT(r.rings, ElementsAre(NodeList{1, 2, 3, 1}, NodeList{7, 8, 9, 7}));
}

TEST(AreaRings, CountsChainsThatDoNotClose) {
    const JoinedRings r = join({{1, 2, 3}, {3, 4, 5}, {7, 8, 9, 7}, {20, 21}});
    EXPECT_EQ(r.rings.size(), 1u);
    EXPECT_EQ(r.unclosed, 2);
}

TEST(AreaRings, TwoNodesThereAndBackAreNoArea) {
    const JoinedRings r = join({{1, 2}, {2, 1}});
    EXPECT_TRUE(r.rings.empty());
    EXPECT_EQ(r.unclosed, 1);
}

TEST(AreaRings, ManyPiecesAtOneNodeAreNoTrouble) {
    std::vector<NodeList> pieces;
    for (std::uint32_t i = 1; i <= 60'000; ++i)
        pieces.push_back({i, 0});
    EXPECT_EQ(join(pieces).unclosed, 30'000);
}

TEST(Hilbert, NeighboursAlongTheCurveAreNeighboursOnTheMap) {
    // A square of 64 by 64 steps whose sides are powers of two from the curve's own corner.
    std::vector<std::pair<std::uint64_t, GeoPoint>> along;
    constexpr std::int64_t lat0 = -900'000'000 + (std::int64_t{5} << 20);
    constexpr std::int64_t lon0 = -1'800'000'000 + (std::int64_t{9} << 20);
    for (int y = 0; y < 64; ++y)
        for (int x = 0; x < 64; ++x) {
            const GeoPoint p{static_cast<std::int32_t>(lat0 + y), static_cast<std::int32_t>(lon0 + x)};
            along.emplace_back(hilbert_index(p), p);
        }
    std::ranges::sort(along);
    for (std::size_t i = 1; i < along.size(); ++i) {
        EXPECT_EQ(along[i].first, along[i - 1].first + 1);
        const int step = std::abs(along[i].second.lat_e7 - along[i - 1].second.lat_e7) +
                         std::abs(along[i].second.lon_e7 - along[i - 1].second.lon_e7);
        EXPECT_EQ(step, 1);
    }
}

TEST(Hilbert, TakesTheCornersOfTheGlobe) {
    const std::set<std::uint64_t> corners{
        hilbert_index({-900'000'000, -1'800'000'000}), hilbert_index({-900'000'000, 1'800'000'000}),
        hilbert_index({900'000'000, -1'800'000'000}), hilbert_index({900'000'000, 1'800'000'000})};
    EXPECT_EQ(corners.size(), 4u);
}

TEST(NodeStore, FindsEveryIdFromEveryStart) {
    std::mt19937 random = seeded(5);
    std::vector<std::int64_t> ids;
    for (std::int64_t id = -50; ids.size() < 200; id += pick(random, 1, 9))
        ids.push_back(id);
    AscendingIds lookup(ids);
    for (int q = 0; q < 20'000; ++q) {
        const std::int64_t id = pick(random, -60, static_cast<int>(ids.back()) + 10);
        const auto at = std::ranges::lower_bound(ids, id);
        const bool is_there = at != ids.end() && *at == id;
        EXPECT_EQ(lookup.find(id),
                  is_there ? static_cast<std::uint32_t>(at - ids.begin()) : AscendingIds::none);
    }
    EXPECT_EQ(AscendingIds({}).find(1), AscendingIds::none);
}

TEST(NodeStore, KeepsWhatIsNeededAndAddsWhatIsMissing) {
    NodeStore store;
    for (const std::int64_t id : {9, 3, 5, 7, 5})
        store.add(id, {static_cast<std::int32_t>(id), 1});
    EXPECT_EQ(store.finish(), 1);
    std::vector<std::int64_t> ids;
    std::vector<GeoPoint> points;
    std::vector<bool> found;
    const std::vector<std::int64_t> refs{5, 100, 9, 1, 5, 4, 100};
    EXPECT_EQ(store.move_needed(refs, ids, points, found), 3);
    EXPECT_THAT(ids, ElementsAre(1, 4, 5, 9, 100));
    EXPECT_THAT(found, ElementsAre(false, false, true, true, false));
    EXPECT_EQ(points[2].lat_e7, 5);
    EXPECT_EQ(points[3].lat_e7, 9);
}

TEST(RefStore, GivesBackWhatItTook) {
    std::mt19937 random = seeded(6);
    RefStore store;
    std::vector<std::vector<std::int64_t>> lists{{}, {INT64_MIN, INT64_MAX, 0, -1, 1, INT64_MIN}};
    for (int i = 0; i < 500; ++i) {
        lists.emplace_back();
        for (int k = pick(random, 0, 30); k > 0; --k)
            lists.back().push_back((std::int64_t{pick(random, -5, 2'000'000)} << (i % 20)) + k);
    }
    std::vector<std::uint32_t> starts;
    for (const auto& list : lists)
        starts.push_back(store.add(list));
    for (std::size_t i = 0; i < lists.size(); ++i) {
        std::vector<std::int64_t> back;
        store.read(starts[i], static_cast<std::uint32_t>(lists[i].size()), back);
        EXPECT_EQ(back, lists[i]);
    }
}

TEST(Pools, GiveEqualThingsEqualNumbers) {
    StringPool strings;
    TagPool tags;
    EXPECT_EQ(strings.add(""), 0u);
    EXPECT_EQ(tags.add({}), 0u);
    std::vector<std::uint32_t> numbers;
    for (int i = 0; i < 20'000; ++i)
        numbers.push_back(strings.add("text " + std::to_string(i)));
    for (int i = 0; i < 20'000; ++i) {
        ASSERT_EQ(strings.add("text " + std::to_string(i)), numbers[static_cast<std::size_t>(i)]);
        ASSERT_EQ(strings.get(numbers[static_cast<std::size_t>(i)]), "text " + std::to_string(i));
    }
    EXPECT_EQ(strings.size(), 20'001u);
    for (std::uint32_t i = 0; i < 5'000; ++i) {
        const std::vector<RawTag> list{{i, i + 1}, {i + 2, 7}};
        const std::uint32_t number = tags.add(list);
        ASSERT_EQ(tags.add(list), number);
        ASSERT_TRUE(std::ranges::equal(tags.get(number), list));
    }
    EXPECT_EQ(tags.size(), 5'001u);
}

}  // namespace
}  // namespace loamway
