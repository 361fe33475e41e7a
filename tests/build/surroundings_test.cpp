// SPDX-License-Identifier: Apache-2.0
// Surfaces, built-up areas, names, background and the facts about a region.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "../../src/region/check.h"
#include "loamway/tags/surface.h"
#include "opl_map.h"

namespace loamway::test {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

bool built_up(const RegionData& r, std::int64_t way) {
    return (r.edges[edge_of(r, way)].flags & edge_flag::built_up) != 0;
}

bool known(const RegionData& r, std::int64_t way) {
    return (r.edges[edge_of(r, way)].flags & edge_flag::known) != 0;
}

TEST(Surfaces, AreReadAsTheTagRulesSay) {
    OplMap map;
    const auto a = map.node(0, 0), b = map.node(100, 0), c = map.node(200, 0), d = map.node(300, 0);
    // Apart from the others: a known road teaches those it meets.
    const auto asphalt = map.way({map.node(0, 900), map.node(100, 900)}, "highway=tertiary,surface=asphalt");
    const auto grade = map.way({b, c}, "highway=track,tracktype=grade2");
    const auto plain = map.way({a, b}, "highway=unclassified");
    map.way({c, d}, "highway=unclassified");
    const RegionData r = build(map);
    EXPECT_TRUE(known(r, asphalt));
    EXPECT_EQ(r.edges[edge_of(r, asphalt)].odds, (SurfaceOdds{200, 0, 0}));
    EXPECT_FALSE(known(r, grade));
    EXPECT_FALSE(known(r, plain));
    const SurfaceReading expected = read_surface({{"highway", "track"}, {"tracktype", "grade2"}}, false);
    EXPECT_EQ(r.edges[edge_of(r, grade)].odds, expected.odds);
    EXPECT_EQ(text_of(r, r.edges[edge_of(r, grade)].reason), expected.reason);
}

TEST(Surfaces, TheRecipesFactorReachesUntaggedRoads) {
    OplMap map;
    const auto way = map.way({map.node(0, 0), map.node(100, 0)}, "highway=unclassified");
    Recipe sparse;
    sparse.odds_factor = 0.55;
    const auto hard = [&](const Recipe& recipe) {
        const RegionData r = build(map, recipe);
        return r.edges[edge_of(r, way)].odds.hard;
    };
    EXPECT_EQ(hard({}), read_surface({{"highway", "unclassified"}}, false, 1.0).odds.hard);
    EXPECT_EQ(hard(sparse), read_surface({{"highway", "unclassified"}}, false, 0.55).odds.hard);
    EXPECT_LT(hard(sparse), hard({}));
    sparse.class_odds_factors["track"] = 0.1;
    EXPECT_EQ(hard(sparse), read_surface({{"highway", "unclassified"}}, false, 0.55).odds.hard);
    sparse.class_odds_factors["unclassified"] = 0.2;
    EXPECT_EQ(hard(sparse), read_surface({{"highway", "unclassified"}}, false, 0.2).odds.hard);
}

TEST(Surfaces, BuiltUpIsWhereTheMiddleOfTheEdgeLies) {
    for (const char* area : {"landuse=residential", "landuse=commercial", "landuse=retail",
                             "landuse=industrial", "place=village", "place=suburb"}) {
        OplMap map;
        const auto inside =
            map.way({map.node(-400, 0), map.node(100, 0), map.node(300, 0)}, "highway=tertiary");
        const auto outside = map.way({map.node(-900, 50), map.node(100, 50)}, "highway=tertiary");
        map.box(0, -500, 500, 500, area);
        const RegionData r = build(map);
        EXPECT_FALSE(built_up(r, outside)) << area;
        EXPECT_FALSE(built_up(r, inside)) << area << ": the middle is at -50";
        OplMap nearer;
        const auto way = nearer.way({nearer.node(-200, 0), nearer.node(300, 0)}, "highway=tertiary");
        nearer.box(-100, -500, 500, 500, area);
        EXPECT_TRUE(built_up(build(nearer), way)) << area;
    }
}

TEST(Surfaces, FieldsAndMunicipalBoundariesAreNotBuiltUp) {
    for (const char* area : {"landuse=farmland", "place=locality", "place=island",
                             "boundary=administrative,place=village", "landuse=farmyard"}) {
        OplMap map;
        const auto way = map.way({map.node(-200, 0), map.node(200, 0)}, "highway=tertiary");
        map.box(-500, -500, 500, 500, area);
        EXPECT_FALSE(built_up(build(map), way)) << area;
    }
}

TEST(Surfaces, StreetsOfHousesAreBuiltUpByThemselves) {
    OplMap map;
    const auto a = map.node(0, 0), b = map.node(100, 0), c = map.node(200, 0);
    const auto street = map.way({a, b}, "highway=residential");
    const auto living = map.way({b, c}, "highway=living_street");
    const RegionData r = build(map);
    EXPECT_TRUE(built_up(r, street));
    EXPECT_TRUE(built_up(r, living));
}

/// A ring of two halves with a square hole, 1 km wide; `second` is the second half's role and way.
struct TownWithHole {
    OplMap map;
    std::int64_t in_town = 0, in_hole = 0, half_1 = 0, half_2 = 0, hole = 0;
    TownWithHole() {
        in_town = map.way({map.node(-450, 300), map.node(-350, 300)}, "highway=tertiary");
        in_hole = map.way({map.node(-50, 0), map.node(50, 0)}, "highway=tertiary");
        const auto sw = map.node(-500, -500), se = map.node(500, -500), ne = map.node(500, 500),
                   nw = map.node(-500, 500);
        half_1 = map.way({sw, se, ne}, "");
        half_2 = map.way({sw, nw, ne}, "");
        hole = map.box(-100, -100, 100, 100, "");
    }
    [[nodiscard]] std::string members(bool whole) const {
        return "w" + std::to_string(half_1) + "@outer" +
               (whole ? ",w" + std::to_string(half_2) + "@outer" : "") + ",w" + std::to_string(hole) +
               "@inner";
    }
};

TEST(Areas, MultipolygonsAreJoinedAndHavesHoles) {
    TownWithHole m;
    m.map.relation(m.members(true), "type=multipolygon,landuse=residential,name=Town");
    const RegionData r = build(m.map);
    EXPECT_TRUE(built_up(r, m.in_town));
    EXPECT_FALSE(built_up(r, m.in_hole));
    ASSERT_EQ(r.background.size(), 1u) << "the outer ring, without the hole";
    EXPECT_EQ(r.background[0].kind, BackgroundKind::built_up_area);
    EXPECT_EQ(r.background[0].point_count, 5u);
    EXPECT_EQ(text_of(r, r.background[0].name), "Town");
    EXPECT_EQ(count_of(r.meta.counts, "multipolygon rings that do not close"), 0);
}

TEST(Areas, UnclosedAndIncompleteMultipolygonsAreCounted) {
    TownWithHole open;
    open.map.relation(open.members(false), "type=multipolygon,landuse=residential");
    const RegionData r = build(open.map);
    EXPECT_FALSE(built_up(r, open.in_town));
    EXPECT_EQ(count_of(r.meta.counts, "multipolygon rings that do not close"), 1);
    TownWithHole cut;
    cut.map.relation(cut.members(true) + ",w9999@outer,n1@label,r5@outer",
                     "type=multipolygon,landuse=residential");
    const RegionData s = build(cut.map);
    EXPECT_TRUE(built_up(s, cut.in_town));
    EXPECT_EQ(count_of(s.meta.counts, "multipolygon pieces that are not whole in the extract"), 1);
}

TEST(Areas, AnAreaCutAtTheRimOfTheExtractIsCountedAndNotAnArea) {
    OplMap map;
    const auto way = map.way({map.node(-200, 0), map.node(200, 0)}, "highway=tertiary");
    const auto a = map.node(-500, -500), b = map.node(500, -500), c = map.node(500, 500);
    map.way({a, b, c, 9999, a}, "landuse=residential");
    const RegionData r = build(map);
    EXPECT_FALSE(built_up(r, way));
    EXPECT_EQ(count_of(r.meta.counts, "areas cut where the extract lacks nodes"), 1);
    EXPECT_THAT(r.background, IsEmpty());
}

TEST(Background, HasEveryKind) {
    OplMap map;
    map.way({map.node(-500, 0), map.node(500, 0)}, "highway=tertiary");
    const auto line = [&](double north, const char* tags) {
        map.way({map.node(-300, north), map.node(0, north + 10), map.node(300, north)}, tags);
    };
    map.box(0, 1000, 100, 1100, "natural=water,name=Mere");
    map.box(200, 1000, 300, 1100, "landuse=residential");
    map.box(400, 1000, 500, 1100, "landuse=forest");
    map.box(600, 1000, 700, 1100, "natural=wood");
    line(2000, "waterway=river,name=Brook");
    line(2100, "waterway=canal");
    line(2200, "railway=rail");
    line(2300, "waterway=stream");
    line(2400, "railway=rail,tunnel=yes");
    line(2500, "waterway=river,tunnel=culvert");
    map.box(-10, 60, 10, 80, "building=barn");    // 70 m from the road
    map.box(-10, 160, 10, 180, "building=barn");  // 170 m
    const RegionData r = build(map);
    EXPECT_FALSE(background_fault(r.view()));
    std::vector<BackgroundKind> kinds;
    for (const BackgroundRecord& b : r.background)
        kinds.push_back(b.kind);
    using K = BackgroundKind;
    EXPECT_THAT(kinds, testing::UnorderedElementsAre(K::water_area, K::built_up_area, K::forest_area,
                                                     K::forest_area, K::river_line, K::river_line,
                                                     K::railway_line, K::building_near_road));
    for (const BackgroundRecord& b : r.background) {
        if (b.kind == K::building_near_road) {
            EXPECT_EQ(b.point_count, 1u);
            EXPECT_NEAR(r.background_points[2 * b.point_first], 535000000 + 70 * 89.86, 20);
        }
        EXPECT_EQ(text_of(r, b.name) == "Mere", b.kind == K::water_area);
    }
}

TEST(Places, NamedPointsOfEveryKindLargestFirst) {
    OplMap map;
    map.way({map.node(0, 0), map.node(100, 0)}, "highway=tertiary");
    const std::pair<const char*, PlaceKind> rows[] = {
        {"place=city,name=A", PlaceKind::city},       {"place=town,name=B", PlaceKind::town},
        {"place=village,name=C", PlaceKind::village}, {"place=hamlet,name=D", PlaceKind::hamlet},
        {"place=suburb,name=E", PlaceKind::suburb},   {"place=locality,name=F", PlaceKind::locality},
        {"place=farm,name=G", PlaceKind::farm},       {"place=isolated_dwelling,name=H", PlaceKind::farm},
        {"man_made=silo,name=I", PlaceKind::other},   {"amenity=fuel,name=J", PlaceKind::other},
        {"railway=station,name=K", PlaceKind::other}, {"landuse=quarry,name=L", PlaceKind::other},
        {"place=island,name=M", PlaceKind::other}};
    for (auto row = std::rbegin(rows); row != std::rend(rows); ++row)
        map.node(500, 500, row->first);
    map.node(500, 500, "place=village");              // without a name
    map.node(500, 500, "tourism=attraction,name=N");  // nowhere to drive a machine to
    map.node(500, 500, "place=village,name=");
    const RegionData r = build(map);
    EXPECT_FALSE(places_fault(r.view()));
    ASSERT_EQ(r.places.size(), std::size(rows));
    for (std::size_t i = 0; i < r.places.size(); ++i) {
        EXPECT_EQ(text_of(r, r.places[i].name), std::string(1, static_cast<char>('A' + i)));
        EXPECT_EQ(r.places[i].kind, rows[i].second);
    }
}

TEST(Places, FarmyardsAndVillagesDrawnAsAreasStandInTheirMiddle) {
    OplMap map;
    map.way({map.node(0, 0), map.node(100, 0)}, "highway=tertiary");
    map.box(400, 400, 600, 600, "landuse=farmyard,name=Home%20%Farm");
    map.box(1400, 400, 1600, 600, "place=village,name=Nether%20%End");
    map.box(2400, 400, 2600, 600, "landuse=residential,name=Estate");
    const RegionData r = build(map);
    ASSERT_EQ(r.places.size(), 2u);
    EXPECT_EQ(text_of(r, r.places[0].name), "Nether End");
    EXPECT_EQ(text_of(r, r.places[1].name), "Home Farm");
    EXPECT_EQ(r.places[1].kind, PlaceKind::farm);
    EXPECT_NEAR(r.places[1].lat_e7, 535000000 + 500 * 89.86, 20);
}

TEST(Places, ExactRepeatsAreListedOnce) {
    OplMap map;
    map.way({map.node(0, 0), map.node(100, 0)}, "highway=tertiary");
    map.node(500, 500, "place=village,name=Twin");
    map.node(500, 500, "place=village,name=Twin");
    map.node(900, 500, "place=village,name=Twin");
    map.node(500, 500, "place=hamlet,name=Twin");
    EXPECT_EQ(build(map).places.size(), 3u);
}

TEST(Meta, ComesFromTheRecipeAndTheMap) {
    OplMap map;
    map.way({map.node(0, 0), map.node(100, 0)}, "highway=tertiary");
    const RegionMeta plain = build(map).meta;
    EXPECT_EQ(plain.name, "tiny");
    EXPECT_EQ(plain.time_zone, "UTC");
    EXPECT_TRUE(plain.time_zone_assumed);
    EXPECT_EQ(plain.recipe, "");
    EXPECT_THAT(plain.attribution, HasSubstr("OpenStreetMap contributors"));
    EXPECT_EQ(plain.source_digest.size(), 32u);
    EXPECT_THAT(plain.counts, IsEmpty());
    Recipe recipe;
    recipe.name = "demo";
    recipe.time_zone = "Europe/Berlin";
    recipe.odds_factor = 0.85;
    recipe.drives_on_right = false;
    recipe.attribution = "Invented map data";
    const RegionMeta meta = build(map, recipe).meta;
    EXPECT_EQ(meta.time_zone, "Europe/Berlin");
    EXPECT_FALSE(meta.time_zone_assumed);
    EXPECT_EQ(meta.recipe, "demo");
    EXPECT_EQ(meta.odds_factor, 0.85);
    EXPECT_FALSE(meta.drives_on_right);
    EXPECT_EQ(meta.attribution, "Invented map data");
}

}  // namespace
}  // namespace loamway::test
