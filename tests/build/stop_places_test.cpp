// SPDX-License-Identifier: Apache-2.0
// Places to stand: what is offered, one exclusion after the other, scores and flags.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "../../src/build/road_facts.h"
#include "../../src/region/check.h"
#include "opl_map.h"
#include "stop_place_maps.h"

namespace loamway::test {
namespace {

/// A straight road from west to east through 0,0: 2 km, with a lay-by 10 m south of its middle.
struct RoadWithLayBy {
    OplMap map;
    std::int64_t lay_by = 0;
    std::int64_t road = 0;
    std::int64_t west = 0, middle = 0, east = 0;

    explicit RoadWithLayBy(std::string_view road_tags = country_road,
                           std::string_view place_tags = "amenity=parking,parking=layby") {
        west = map.node(-1000, 0);
        middle = map.node(-20, 0);
        east = map.node(1000, 0);
        road = map.way({west, middle, east}, road_tags);
        lay_by = map.node(0, -10, place_tags);
    }
};

/// The lay-by is not offered, for this reason.
void expect_left_out(const OplMap& map, std::string_view reason) {
    const RegionData r = build(map);
    EXPECT_TRUE(places(r, StopPlaceKind::lay_by).empty()) << reason;
    EXPECT_EQ(count_of(r.meta.counts, "stop places left out: " + std::string(reason)), 1) << reason;
}

void expect_offered(const OplMap& map, std::string_view why) {
    EXPECT_EQ(places(build(map), StopPlaceKind::lay_by).size(), 1u) << why;
}

TEST(StopPlaces, ALayByBesideTheRoadIsOfferedWithPlaceScoreAndSide) {
    RoadWithLayBy m(country_road, "amenity=parking,parking=layby,name=Oak%20%Rest");
    const RegionData r = build(m.map);
    const auto found = places(r, StopPlaceKind::lay_by);
    ASSERT_EQ(found.size(), 1u);
    const StopPlaceRecord& s = found[0];
    EXPECT_EQ(s.edge, edge_of(r, m.road));
    EXPECT_NEAR(s.offset_dm, 10000, 10);
    EXPECT_EQ(s.score, 5);
    EXPECT_EQ(text_of(r, s.reason), "lay-by +5");
    EXPECT_EQ(text_of(r, s.name), "Oak Rest");
    EXPECT_EQ(s.osm_id, -m.lay_by);
    EXPECT_TRUE(has(s, stop_flag::right_forward));
    EXPECT_FALSE(has(s, stop_flag::left_forward));
    EXPECT_FALSE(has(s, stop_flag::ask_permission));
    EXPECT_FALSE(has(s, stop_flag::soft_ground));
    EXPECT_FALSE(has(s, stop_flag::near_school));
}

TEST(StopPlaces, NorthOfTheRoadIsOnTheLeft) {
    OplMap map;
    map.way({map.node(-1000, 0), map.node(1000, 0)}, country_road);
    map.node(0, 12, "highway=rest_area");
    const auto found = places(build(map), StopPlaceKind::rest_area);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_TRUE(has(found[0], stop_flag::left_forward));
    EXPECT_FALSE(has(found[0], stop_flag::right_forward));
}

TEST(StopPlaces, WithinThirtyMetresOfARoad) {
    for (const auto& [away, expected] : {std::pair(28.0, 1u), std::pair(32.0, 0u)}) {
        OplMap map;
        map.way({map.node(-1000, 0), map.node(1000, 0)}, country_road);
        map.node(0, away, "highway=rest_area");
        EXPECT_EQ(build(map).stop_places.size(), expected) << away;
    }
}

TEST(StopPlaces, KindsAndTheirScores) {
    struct Row {
        const char* tags;
        StopPlaceKind kind;
        int score;
        bool ask;
    };
    for (const Row& row : {Row{"highway=rest_area", StopPlaceKind::rest_area, 5, false},
                           Row{"highway=services", StopPlaceKind::services, 5, false},
                           Row{"amenity=parking", StopPlaceKind::parking, 5, false},
                           Row{"amenity=parking,access=customers", StopPlaceKind::parking, 5, true},
                           Row{"parking=layby", StopPlaceKind::lay_by, 5, false},
                           Row{"landuse=farmyard", StopPlaceKind::yard, 4, true},
                           Row{"landuse=industrial", StopPlaceKind::yard, 4, true},
                           Row{"amenity=parking,surface=gravel", StopPlaceKind::parking, 6, false}}) {
        RoadWithLayBy m(country_road, row.tags);
        const auto found = places(build(m.map), row.kind);
        ASSERT_EQ(found.size(), 1u) << row.tags;
        EXPECT_EQ(found[0].score, row.score) << row.tags;
        EXPECT_EQ(has(found[0], stop_flag::ask_permission), row.ask) << row.tags;
    }
}

TEST(StopPlaces, WideRoadsAndShouldersScoreTwoMore) {
    for (const char* tags :
         {"highway=tertiary,surface=asphalt,width=7.5", "highway=tertiary,shoulder=both"}) {
        RoadWithLayBy m(tags);
        const RegionData r = build(m.map);
        const auto found = places(r, StopPlaceKind::lay_by);
        ASSERT_EQ(found.size(), 1u);
        EXPECT_EQ(found[0].score, 7);
        EXPECT_EQ(text_of(r, found[0].reason), "lay-by +5, wide road or shoulder +2");
    }
    RoadWithLayBy narrow("highway=tertiary,width=6.5,shoulder=no");
    EXPECT_EQ(places(build(narrow.map), StopPlaceKind::lay_by)[0].score, 5);
}

TEST(StopPlaces, APassingPlaceIsShortAndListedOnlyWithSomethingMore) {
    const auto on = [](std::string_view road) {
        OplMap map;
        const auto a = map.node(-500, 0), b = map.node(0, 0, "highway=passing_place"), c = map.node(500, 0);
        map.way({a, b, c}, road);
        return build(map);
    };
    const auto gravel = places(on("highway=unclassified,surface=gravel"), StopPlaceKind::passing_place);
    ASSERT_EQ(gravel.size(), 1u);
    EXPECT_EQ(gravel[0].score, 2);
    EXPECT_TRUE(has(gravel[0], stop_flag::short_stop));
    EXPECT_TRUE(has(gravel[0], stop_flag::soft_ground));
    EXPECT_FALSE(has(gravel[0], stop_flag::right_forward) || has(gravel[0], stop_flag::left_forward));
    EXPECT_TRUE(on("highway=unclassified,surface=asphalt").stop_places.empty());
}

TEST(StopPlaces, APassingPlaceDrawnAsAWay) {
    OplMap map;
    map.way({map.node(-500, 0), map.node(500, 0)}, "highway=unclassified,surface=gravel");
    map.way({map.node(-15, -4), map.node(15, -4)}, "highway=passing_place");
    EXPECT_EQ(places(build(map), StopPlaceKind::passing_place).size(), 1u);
}

TEST(StopPlaces, CarParksThatCannotTakeAMachine) {
    for (const char* tags : {"amenity=parking,access=private", "amenity=parking,access=no",
                             "amenity=parking,maxheight=2.1", "amenity=parking,maxweight=3.5",
                             "amenity=parking,parking=multi-storey", "amenity=parking,parking=underground",
                             "amenity=parking,building=yes", "amenity=parking,covered=yes",
                             "amenity=parking,motor_vehicle=private", "amenity=bicycle_parking"}) {
        RoadWithLayBy m(country_road, tags);
        EXPECT_TRUE(build(m.map).stop_places.empty()) << tags;
    }
}

TEST(StopPlaces, ALargeAreaIsOnePlaceOnItsBestSpot) {
    // The rim touches the road for 200 m; near its west end is a junction.
    OplMap map;
    const auto west = map.node(-1000, 0), junction = map.node(-90, 0), east = map.node(1000, 0);
    map.way({west, junction, east}, country_road);
    map.way({junction, map.node(-90, 500)}, country_road);
    const auto area = map.box(-100, -60, 100, -8, "amenity=parking,name=Fair%20%ground");
    const RegionData r = build(map);
    const auto found = places(r, StopPlaceKind::parking);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].osm_id, area);
    EXPECT_EQ(text_of(r, found[0].name), "Fair ground");
    EXPECT_EQ(found[0].lat_e7, 535000000 - 719) << "on the rim towards the road";
}

TEST(StopPlaces, AreasOfMultipolygonsCount) {
    OplMap map;
    map.way({map.node(-1000, 0), map.node(1000, 0)}, country_road);
    const auto rim = map.box(-50, -60, 50, -8, "");
    map.relation("w" + std::to_string(rim) + "@outer", "type=multipolygon,highway=rest_area");
    EXPECT_EQ(places(build(map), StopPlaceKind::rest_area).size(), 1u);
}

TEST(StopPlaces, AThroughRoadIsPreferredToTheAisleOfTheCarPark) {
    RoadWithLayBy m;
    OplMap& map = m.map;
    map.box(40, -30, 120, -10, "amenity=parking");
    map.way({map.node(60, -200), map.node(60, -12)}, "highway=service,service=parking_aisle,surface=asphalt");
    const RegionData r = build(map);
    const auto found = places(r, StopPlaceKind::parking);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].edge, edge_of(r, m.road));
}

TEST(StopPlaces, LeftOutOnFastRoads) {
    for (const char* tags :
         {"highway=motorway", "highway=trunk", "highway=trunk_link", "highway=primary,motorroad=yes"})
        expect_left_out(RoadWithLayBy(tags).map, "motorway, trunk road or motorroad");
    expect_offered(RoadWithLayBy("highway=primary").map, "an ordinary primary road");
}

TEST(StopPlaces, LeftOutOnBridgesAndInTunnels) {
    for (const char* tags :
         {"highway=tertiary,bridge=yes", "highway=tertiary,tunnel=yes", "highway=tertiary,covered=yes"})
        expect_left_out(RoadWithLayBy(tags).map, "on a bridge, in a tunnel or covered");
}

TEST(StopPlaces, LeftOutNearALevelCrossing) {
    for (const auto& [along, offered] : {std::pair(45, false), std::pair(60, true)}) {
        OplMap map;
        map.way({map.node(-1000, 0), map.node(along, 0, "railway=level_crossing"), map.node(1000, 0)},
                country_road);
        map.node(0, -10, "parking=layby");
        if (offered)
            expect_offered(map, "60 m from the rails");
        else
            expect_left_out(map, "within 50 m of a level crossing");
    }
}

TEST(StopPlaces, LeftOutNearAJunctionOfThroughRoads) {
    for (const auto& [tags, offered] :
         {std::pair("highway=unclassified", false), std::pair("highway=track", true),
          std::pair("highway=service", true)}) {
        RoadWithLayBy m;
        m.map.way({m.middle, m.map.node(-20, 300)}, tags);
        if (offered)
            expect_offered(m.map, tags);
        else
            expect_left_out(m.map, "within 30 m of a junction or roundabout");
    }
    OplMap far;
    const auto junction = far.node(-40, 0);
    far.way({far.node(-1000, 0), junction, far.node(1000, 0)}, country_road);
    far.way({junction, far.node(-40, 300)}, country_road);
    far.node(0, -10, "parking=layby");
    expect_offered(far, "a junction 40 m away");
}

TEST(StopPlaces, LeftOutNearARoundabout) {
    OplMap map;
    const auto a = map.node(0, 0), b = map.node(20, 10), c = map.node(40, 0), d = map.node(20, -10);
    map.way({a, b, c, d, a}, "highway=tertiary,junction=roundabout");
    map.way({map.node(-1000, 0), a}, country_road);
    map.node(-20, -10, "parking=layby");
    expect_left_out(map, "within 30 m of a junction or roundabout");
    OplMap mini;
    mini.way({mini.node(-1000, 0), mini.node(20, 0, "highway=mini_roundabout"), mini.node(1000, 0)},
             country_road);
    mini.node(0, -10, "parking=layby");
    expect_left_out(mini, "within 30 m of a junction or roundabout");
}

TEST(StopPlaces, LeftOutInResidentialAreasAndNearBuildings) {
    RoadWithLayBy homes;
    homes.map.box(-200, -200, 200, 200, "landuse=residential");
    expect_left_out(homes.map, "in a residential area");
    RoadWithLayBy house;
    house.map.box(-5, -70, 5, -55, "building=yes");
    expect_left_out(house.map, "within 50 m of a building");
    RoadWithLayBy far;
    far.map.box(-5, -80, 5, -65, "building=yes");
    expect_offered(far.map, "a house 55 m away");
    RoadWithLayBy hall;  // only its rim is near; its middle is 130 m away
    hall.map.box(30, -150, 230, -30, "building=barn");
    expect_left_out(hall.map, "within 50 m of a building");
}

TEST(StopPlaces, AFarmyardMayHaveItsOwnHousesAround) {
    for (const auto& [tags, expected] :
         {std::pair("landuse=farmyard", 1u), std::pair("landuse=industrial", 0u)}) {
        OplMap map;
        map.way({map.node(-1000, 0), map.node(1000, 0)}, country_road);
        map.box(-40, -80, 40, -10, tags);
        map.box(-20, -50, 20, -30, "building=barn");
        EXPECT_EQ(places(build(map), StopPlaceKind::yard).size(), expected) << tags;
    }
}

TEST(StopPlaces, LeftOutUnderPowerLines) {
    for (const auto& [north, offered] : {std::pair(5, false), std::pair(15, true)}) {
        for (const char* kind : {"power=line", "power=minor_line"}) {
            RoadWithLayBy m;
            m.map.way({m.map.node(-400, north), m.map.node(400, north)}, kind);
            if (offered)
                expect_offered(m.map, kind);
            else
                expect_left_out(m.map, "within 20 m of a power line");
        }
    }
    RoadWithLayBy cable;
    cable.map.way({cable.map.node(-400, 0), cable.map.node(400, 0)}, "power=cable");
    expect_offered(cable.map, "a cable in the ground");
}

TEST(StopPlaces, LeftOutOnSlopes) {
    // 8 %, -7 %, 6.5, 4 degrees, as OPL writes them.
    for (const char* incline : {"8%25%", "-7%25%", "6.5", "4%b0%", "10%20%%25%"})
        expect_left_out(RoadWithLayBy("highway=tertiary,incline=" + std::string(incline)).map,
                        "steeper than 6 %");
    expect_offered(RoadWithLayBy("highway=tertiary,incline=6%25%").map, "exactly 6 %");
    expect_offered(RoadWithLayBy("highway=tertiary,incline=up").map, "a slope nobody measured");
}

TEST(StopPlaces, LeftOutInTightBends) {
    const auto bend = [](double radius) {
        OplMap map;
        std::vector<std::int64_t> nodes{map.node(-radius, -500)};
        for (int i = 0; i <= 18; ++i) {
            const double angle = 3.14159265 * (1.0 - i / 36.0);
            nodes.push_back(map.node(radius * std::cos(angle), radius * std::sin(angle)));
        }
        nodes.push_back(map.node(500, radius));
        map.way(nodes, country_road);
        map.node((radius + 8) * std::cos(2.356), (radius + 8) * std::sin(2.356), "parking=layby");
        return map;
    };
    expect_left_out(bend(45), "in a bend of less than 60 m");
    expect_offered(bend(90), "a wide bend");
}

TEST(StopPlaces, LeftOutNearWaterWetlandAndProtectionAreas) {
    for (const char* tags :
         {"natural=water", "natural=wetland", "landuse=reservoir", "leisure=nature_reserve",
          "boundary=protected_area", "boundary=protected_area,protect_class=12", "boundary=national_park"}) {
        RoadWithLayBy m;
        m.map.box(-100, -150, 100, -30, tags);
        expect_left_out(m.map, "within 25 m of water, wetland or a protection area");
        RoadWithLayBy inside;
        inside.map.box(-2000, -2000, 2000, 2000, tags);
        expect_left_out(inside.map, "within 25 m of water, wetland or a protection area");
        RoadWithLayBy far;
        far.map.box(-100, -150, 100, -40, tags);
        expect_offered(far.map, tags);
    }
    RoadWithLayBy landscape;
    landscape.map.box(-2000, -2000, 2000, 2000, "boundary=protected_area,protect_class=5");
    expect_offered(landscape.map, "landscape protection says nothing about powder");
    for (const char* tags : {"waterway=river", "waterway=stream"}) {
        RoadWithLayBy m;
        m.map.way({m.map.node(-300, -20), m.map.node(300, -20)}, tags);
        expect_left_out(m.map, "within 25 m of water, wetland or a protection area");
    }
    RoadWithLayBy culvert;
    culvert.map.way({culvert.map.node(-300, -20), culvert.map.node(300, -20)},
                    "waterway=stream,tunnel=culvert");
    expect_offered(culvert.map, "a stream under the ground");
}

TEST(StopPlaces, AnIslandInALakeIsNotInTheLake) {
    RoadWithLayBy m;
    const auto shore = m.map.box(-3000, -3000, 3000, 3000, "");
    const auto island = m.map.box(-2000, -500, 2000, 500, "");
    m.map.relation("w" + std::to_string(shore) + "@outer,w" + std::to_string(island) + "@inner",
                   "type=multipolygon,natural=water");
    expect_offered(m.map, "500 m to the shore");
}

TEST(StopPlaces, SchoolsAreAFlag) {
    for (const auto& [north, expected] : {std::pair(180, true), std::pair(230, false)}) {
        RoadWithLayBy node;
        node.map.node(0, north, "amenity=school");
        EXPECT_EQ(has(places(build(node.map), StopPlaceKind::lay_by).at(0), stop_flag::near_school),
                  expected);
        RoadWithLayBy area;
        area.map.box(-50, north, 50, north + 100, "amenity=school");
        EXPECT_EQ(has(places(build(area.map), StopPlaceKind::lay_by).at(0), stop_flag::near_school),
                  expected);
    }
}

TEST(StopPlaces, RoadsClosedToMachinesAreNoNeighbours) {
    // The nearer road is a motorway; the ordinary road 20 m to the south counts.
    OplMap map;
    map.way({map.node(-1000, 10), map.node(1000, 10)}, "highway=motorway");
    const auto road = map.way({map.node(-1000, -20), map.node(1000, -20)}, country_road);
    map.node(0, 0, "parking=layby");
    const RegionData r = build(map);
    const auto found = places(r, StopPlaceKind::lay_by);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].edge, edge_of(r, road));
}

TEST(RoadFacts, Inclines) {
    EXPECT_EQ(read_incline_pct("8%"), 8.0);
    EXPECT_EQ(read_incline_pct("-12.5 %"), 12.5);
    EXPECT_EQ(read_incline_pct("+3"), 3.0);
    EXPECT_NEAR(read_incline_pct("10°").value(), 17.6327, 1e-4);
    for (const char* text : {"", "up", "down", "steep", "%", "8 m", "nan", "inf", "1:8"})
        EXPECT_FALSE(read_incline_pct(text)) << text;
}

}  // namespace
}  // namespace loamway::test
