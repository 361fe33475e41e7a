// SPDX-License-Identifier: Apache-2.0
// Roads with a surface tag teach those without one.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fmt/format.h>

#include "../../src/build/learn_surfaces.h"
#include "../../src/build/map_areas.h"
#include "loamway/tags/surface.h"
#include "opl_map.h"

namespace loamway::test {
namespace {

using testing::HasSubstr;
using testing::Not;

const EdgeRecord& record(const RegionData& r, std::int64_t way) {
    return r.edges[edge_of(r, way)];
}

std::string why(const RegionData& r, std::int64_t way) {
    return std::string(text_of(r, record(r, way).reason));
}

/// `count` roads of 1 km, far from each other and from the rest.
void scatter(OplMap& map, int count, std::string_view tags) {
    static int row = 0;
    for (int i = 0; i < count; ++i) {
        const double north = 20000.0 + 500.0 * ++row;
        map.way({map.node(0, north), map.node(1000, north)}, tags);
    }
}

TEST(LearnedSurfaces, LikeRoadsTeachByTheirKilometres) {
    OplMap map;
    scatter(map, 18, "highway=track,tracktype=grade3,surface=gravel");
    scatter(map, 2, "highway=track,tracktype=grade3,surface=ground");
    const auto way = map.way({map.node(0, 0), map.node(1000, 0)}, "highway=track,tracktype=grade3");
    const auto other = map.way({map.node(0, 900), map.node(1000, 900)}, "highway=track,tracktype=grade5");
    const RegionData r = build(map);
    const SurfaceReading plain = read_surface({{"highway", "track"}, {"tracktype", "grade3"}}, false);
    EXPECT_GT(record(r, way).odds.gravel, plain.odds.gravel);
    EXPECT_LT(record(r, way).odds.hard, plain.odds.hard);
    EXPECT_THAT(why(r, way), HasSubstr("20 km of grade3 tracks"));
    EXPECT_THAT(why(r, way), HasSubstr("90 % gravel"));
    EXPECT_EQ(record(r, way).flags & edge_flag::known, 0);
    const SurfaceReading grade5 = read_surface({{"highway", "track"}, {"tracktype", "grade5"}}, false);
    EXPECT_EQ(record(r, other).odds, grade5.odds) << "grade3 tracks teach nothing about grade5";
    EXPECT_EQ(why(r, other), grade5.reason);
}

TEST(LearnedSurfaces, FiveWaysWeighAsMuchAsTheTable) {
    OplMap map;
    scatter(map, 5, "highway=unclassified,surface=gravel");
    const auto way = map.way({map.node(0, 0), map.node(1000, 0)}, "highway=unclassified");
    const RegionData r = build(map);
    // Before: .65 hard. Twice, for the class and for the class outside built-up areas, half of it goes to
    // gravel; nothing known of this kind is named or open, so the hints stay silent.
    const double gravel_before = 0.35 * 0.85;
    const double gravel = (gravel_before + 1.0) / 2.0;
    const double twice = (gravel + 1.0) / 2.0;
    EXPECT_NEAR(record(r, way).odds.gravel / 200.0, twice, 0.0051);
    EXPECT_NEAR(record(r, way).odds.hard / 200.0, 0.65 / 4.0, 0.0051);
}

TEST(LearnedSurfaces, OneLongWayIsOneWay) {
    const auto gravel = [](bool one_long) {
        OplMap map;
        if (one_long)
            map.way({map.node(0, 5000), map.node(10000, 5000)}, "highway=unclassified,surface=gravel");
        else
            scatter(map, 10, "highway=unclassified,surface=gravel");
        const auto way = map.way({map.node(0, 0), map.node(1000, 0)}, "highway=unclassified");
        const RegionData r = build(map);
        return record(r, way).odds.gravel;
    };
    EXPECT_LT(gravel(true), gravel(false));
}

TEST(LearnedSurfaces, WithoutTeachersTheTagsAloneCount) {
    OplMap map;
    const auto way = map.way({map.node(0, 0), map.node(1000, 0)}, "highway=unclassified");
    map.way({map.node(0, 500), map.node(1000, 500)}, "highway=track,surface=asphalt;gravel");
    const RegionData r = build(map);
    const SurfaceReading plain = read_surface({{"highway", "unclassified"}}, false);
    EXPECT_EQ(record(r, way).odds, plain.odds);
    EXPECT_EQ(why(r, way), plain.reason);
}

TEST(LearnedSurfaces, WhatATagSaysStays) {
    OplMap map;
    scatter(map, 20, "highway=track,surface=gravel");
    const auto paved = map.way({map.node(0, 0), map.node(900, 0)}, "highway=track,surface=asphalt");
    const auto list = map.way({map.node(0, 500), map.node(900, 500)}, "highway=track,surface=asphalt;gravel");
    const auto winter = map.way({map.node(0, 900), map.node(900, 900)}, "highway=track,winter_road=yes");
    const RegionData r = build(map);
    EXPECT_EQ(record(r, paved).odds, (SurfaceOdds{200, 0, 0}));
    EXPECT_EQ(record(r, list).odds,
              read_surface({{"highway", "track"}, {"surface", "asphalt;gravel"}}, false).odds);
    EXPECT_EQ(record(r, winter).odds,
              read_surface({{"highway", "track"}, {"winter_road", "yes"}}, false).odds);
}

/// A crossroads at (0, 0): gravel from the west, asphalt from the south; the untagged road leaves to the
/// east, turned by `north_m`.
struct Crossroads {
    OplMap map;
    std::int64_t way = 0;
    explicit Crossroads(double north_m, const char* tags = "highway=track", const char* west = "",
                        const char* south = "") {
        scatter(map, 10, "highway=track,surface=gravel");
        scatter(map, 10, "highway=track,surface=asphalt");
        const auto middle = map.node(0, 0);
        map.way({map.node(-800, 0), middle}, std::string("highway=track,surface=gravel") + west);
        map.way({map.node(0, -800), middle}, std::string("highway=track,surface=asphalt") + south);
        way = map.way({middle, map.node(600, north_m)}, tags);
    }
    [[nodiscard]] const EdgeRecord& read(const RegionData& r) const { return record(r, way); }
};

TEST(LearnedSurfaces, ARoadIsLikeTheOneItContinuesStraightOn) {
    const Crossroads east(0);
    const RegionData r = build(east.map);
    EXPECT_GE(east.read(r).odds.gravel, 150);
    EXPECT_THAT(why(r, east.way), HasSubstr("continues a gravel road"));
    const Crossroads north(2000);  // bends by 73 degrees: straight on from the south
    const RegionData s = build(north.map);
    EXPECT_GE(north.read(s).odds.hard, 120);
    EXPECT_THAT(why(s, north.way), HasSubstr("continues a paved road"));
}

TEST(LearnedSurfaces, ARoadContinuesUnderItsNameThroughABend) {
    const Crossroads named(-900, "highway=track,name=Mill%20%Lane", "", ",name=Mill%20%Lane");
    const RegionData r = build(named.map);
    EXPECT_GE(named.read(r).odds.hard, 120);
    EXPECT_THAT(why(r, named.way), HasSubstr("continues a paved road"));
}

TEST(LearnedSurfaces, ARoadRunsOnThroughUntaggedPieces) {
    OplMap map;
    scatter(map, 10, "highway=track,surface=gravel");
    scatter(map, 10, "highway=track,surface=asphalt");
    const auto a = map.node(0, 0), b = map.node(500, 0), c = map.node(1000, 0), d = map.node(1800, 0);
    const auto first = map.way({a, b}, "highway=track");
    map.way({b, c}, "highway=track");
    map.way({c, d}, "highway=track,surface=asphalt");
    const auto far = map.way({map.node(0, 3000), map.node(500, 3000)}, "highway=track");
    const RegionData r = build(map);
    EXPECT_THAT(why(r, first), HasSubstr("further on it is paved"));
    EXPECT_THAT(why(r, far), Not(HasSubstr("further on")));
    EXPECT_GT(record(r, first).odds.hard, record(r, far).odds.hard);
}

TEST(LearnedSurfaces, NoAssumedRoadIsCertain) {
    OplMap map;
    scatter(map, 200, "highway=tertiary,surface=asphalt");
    const auto way = map.way({map.node(0, 0), map.node(1000, 0)}, "highway=tertiary");
    const RegionData r = build(map);
    EXPECT_EQ(record(r, way).odds, (SurfaceOdds{198, 1, 1}));
    for (const SurfaceShares& p :
         {SurfaceShares{1, 0, 0}, SurfaceShares{0, 0.5, 0.5}, SurfaceShares{0.0025, 0.9975, 0},
          SurfaceShares{1.0 / 3, 1.0 / 3, 1.0 / 3}}) {
        const SurfaceOdds odds = learned_odds(p);
        EXPECT_EQ(odds.hard + odds.gravel + odds.earth, 200);
        EXPECT_GE(std::min({odds.hard, odds.gravel, odds.earth}), 1);
    }
}

/// The answer for a way whose surface tag is hidden does not depend on that tag.
TEST(LearnedSurfaces, AHiddenTagTeachesNothing) {
    const auto answer = [](const char* surface) {
        OplMap map;
        scatter(map, 6, "highway=track,surface=gravel");
        const auto a = map.node(0, 0), b = map.node(500, 0), c = map.node(1000, 0);
        const auto asked = map.way({a, b}, std::string("highway=track,surface=") + surface);
        map.way({b, c}, "highway=track,surface=asphalt");
        Recipe recipe;
        Assembly assembly(read_opl(map.text()), recipe);
        resolve_refs(assembly);
        split_roads(assembly);
        const MapAreas areas(assembly);
        describe_edges(assembly, areas);
        const SurfaceRoads roads(assembly, [&](std::int64_t way) { return way == asked; });
        const SurfaceLessons lessons(roads);
        SurfaceReader reader(lessons, roads);
        for (std::uint32_t e = 0; e < assembly.out.edges.size(); ++e)
            if (assembly.out.edge_way[e] == asked)
                return reader.edge(e)->reason;
        return std::string();
    };
    EXPECT_EQ(answer("gravel"), answer("asphalt"));
    EXPECT_THAT(answer("earth"), HasSubstr("continues a paved road"));
}

}  // namespace
}  // namespace loamway::test
