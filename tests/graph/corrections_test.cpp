// SPDX-License-Identifier: Apache-2.0
// Corrections found on drawn roads, and what they change.
#include <gtest/gtest.h>

#include "loamway/graph/corrected_region.h"
#include "loamway/graph/road_graph.h"
#include "loamway/graph/vehicle_roads.h"
#include "support/tiny_region.h"

using namespace loamway;

namespace {

using State = CorrectionMatch::State;
constexpr double lat0 = 47.3, lon0 = -35.5;
// Metres to degrees near there.
double north(double m) {
    return lat0 + m / 111180.0;
}
double east(double m) {
    return lon0 + m / 75600.0;
}
GeoPoint at(double east_m, double north_m) {
    return GeoPoint::from_degrees(north(north_m), east(east_m));
}

// A road 2 km east in two pieces with a side road north from the middle, and a parallel road 100 m north of
// it.
struct Crossing {
    TinyMap map;
    NodeId west, middle, east_end, top, far_west, far_east;
    EdgeId left, right, side, parallel;
    Crossing() {
        west = map.node(at(0, 0));
        middle = map.node(at(1000, 0));
        east_end = map.node(at(2000, 0));
        top = map.node(at(1000, 90));
        far_west = map.node(at(0, 100));
        far_east = map.node(at(2000, 100));
        left = map.edge(west, middle, {{"highway", "tertiary"}, {"maxheight", "4.2"}}, {180, 10, 10}, false);
        right = map.edge(middle, east_end, {{"highway", "tertiary"}}, {180, 10, 10}, false);
        side = map.edge(middle, top, {{"highway", "track"}}, {10, 100, 90}, false);
        parallel = map.edge(far_west, far_east, {{"highway", "unclassified"}}, {100, 50, 50}, false);
    }
    Region region() { return Region::from_data(map.build()); }
};

Correction line(CorrectionKind kind, std::vector<GeoPoint> points, std::string value = {}) {
    static int number = 0;
    Correction c;
    c.id = "c" + std::to_string(++number);
    c.kind = kind;
    c.value = std::move(value);
    c.line = std::move(points);
    return c;
}

VehicleView tractor() {
    VehicleView v;
    v.width = Length::from_metres(3);
    v.height = Length::from_metres(3.9);
    v.length = Length::from_metres(8);
    v.mass = Mass::from_tonnes(20);
    v.axle = Mass::from_tonnes(10);
    v.top_speed = Speed::from_kmh(40);
    return v;
}

TEST(CorrectionMatch, ALineCoversTheRoadsItRunsAlong) {
    const Crossing c;
    const Region region = Crossing().region();
    // Ten metres beside the road, a little askew, over both pieces.
    const auto m = match_correction(
        region.view(), line(CorrectionKind::surface, {at(100, 10), at(1000, 5), at(1950, -10)}, "gravel"));
    EXPECT_EQ(m.state, State::matched);
    EXPECT_EQ(m.edges, (std::vector<EdgeId>{c.left, c.right}));
}

TEST(CorrectionMatch, ARoadAcrossIsNotMeant) {
    const Crossing c;
    const Region region = Crossing().region();
    // Up the side road: the first metres lie within 15 m of the main road, but across it.
    const auto m = match_correction(region.view(), line(CorrectionKind::closed, {at(1000, 0), at(1000, 88)}));
    EXPECT_EQ(m.state, State::matched);
    EXPECT_EQ(m.edges, std::vector<EdgeId>{c.side});
}

TEST(CorrectionMatch, LimitsOfDistanceAngleAndShare) {
    const Crossing c;
    const Region region = Crossing().region();
    const auto state = [&](std::vector<GeoPoint> points) {
        return match_correction(region.view(), line(CorrectionKind::closed, std::move(points))).state;
    };
    EXPECT_EQ(state({at(100, 14), at(600, 14)}), State::matched);
    EXPECT_EQ(state({at(100, 16), at(600, 16)}), State::no_match);
    // 25 and 35 degrees across the road, within 15 m of it all along.
    EXPECT_EQ(state({at(500, -7), at(530, 7)}), State::matched);
    EXPECT_EQ(state({at(500, -10.5), at(530, 10.5)}), State::no_match);
    // The last 15 % and the last 25 % leave the road.
    EXPECT_EQ(state({at(100, 0), at(525, 0), at(525, -75)}), State::matched);
    EXPECT_EQ(state({at(100, 0), at(475, 0), at(475, -125)}), State::no_match);
}

TEST(CorrectionMatch, WithoutARoadItSaysHowFarTheNearestIs) {
    const Region region = Crossing().region();
    const auto m =
        match_correction(region.view(), line(CorrectionKind::closed, {at(500, -40), at(700, -40)}));
    EXPECT_EQ(m.state, State::no_match);
    ASSERT_TRUE(m.nearest);
    EXPECT_NEAR(m.nearest->metres(), 40, 1);
    EXPECT_NE(m.why.find("the nearest road is 40 m away"), std::string::npos) << m.why;
    const auto far = match_correction(region.view(), line(CorrectionKind::stop, {at(500, -5000)}));
    EXPECT_EQ(far.state, State::no_match);
    EXPECT_NE(far.why.find("5.0 km away"), std::string::npos) << far.why;
}

TEST(CorrectionMatch, APieceCountsFromHalfOnForSurfacesAndFrom20MetresForWhatStopsMachines) {
    const Crossing c;
    const Region region = Crossing().region();
    const auto edges = [&](CorrectionKind kind, double from, double to) {
        return match_correction(region.view(), line(kind, {at(from, 0), at(to, 0)}, "gravel")).edges;
    };
    EXPECT_EQ(edges(CorrectionKind::surface, 400, 1000), std::vector<EdgeId>{c.left});
    EXPECT_EQ(edges(CorrectionKind::surface, 400, 1400), std::vector<EdgeId>{c.left});
    const auto little =
        match_correction(region.view(), line(CorrectionKind::surface, {at(600, 0), at(1000, 0)}, "gravel"));
    EXPECT_EQ(little.state, State::no_effect);
    EXPECT_NE(little.why.find("less than half"), std::string::npos) << little.why;
    // A closure overshoots the junction by 10 m, then by 30 m.
    EXPECT_EQ(edges(CorrectionKind::closed, 800, 1010), std::vector<EdgeId>{c.left});
    EXPECT_EQ(edges(CorrectionKind::closed, 800, 1030), (std::vector<EdgeId>{c.left, c.right}));
    EXPECT_EQ(edges(CorrectionKind::closed, 500, 508), std::vector<EdgeId>{c.left});
}

TEST(CorrectionMatch, ThePointOfARoadOrPlace) {
    const Crossing c;
    const Region region = Crossing().region();
    const auto edges = [&](CorrectionKind kind, GeoPoint p) {
        return match_correction(region.view(), line(kind, {p}, "x")).edges;
    };
    EXPECT_EQ(edges(CorrectionKind::closed, at(500, 14)), std::vector<EdgeId>{c.left});
    EXPECT_TRUE(edges(CorrectionKind::closed, at(500, 16)).empty());
    EXPECT_EQ(edges(CorrectionKind::stop, at(500, 29)), std::vector<EdgeId>{c.left});
    // A yard at the corner serves both roads.
    EXPECT_EQ(edges(CorrectionKind::stop, at(1020, 20)), (std::vector<EdgeId>{c.left, c.right, c.side}));
}

// A correction was matched to the roads on its own side of the date line only.
TEST(CorrectionMatch, RoadsBeyondTheDateLineAreAsNear) {
    const auto place = [](double east_m, double north_m) {
        const double lon = 180 + east_m / 75600.0;
        return GeoPoint::from_degrees(north(north_m), lon > 180 ? lon - 360 : lon);
    };
    TinyMap map;
    const NodeId south = map.node(place(-5, 0)), top = map.node(place(-5, 1000));
    const NodeId west = map.node(place(-800, 2000)), east_end = map.node(place(800, 2000));
    const EdgeId along = map.edge(south, top, {{"highway", "track"}}, {10, 100, 90}, false);
    const EdgeId over = map.edge(west, east_end, {{"highway", "tertiary"}}, {180, 10, 10}, false);
    const Region region = Region::from_data(map.build());
    const auto match = [&](CorrectionKind kind, std::vector<GeoPoint> points, const char* value) {
        return match_correction(region.view(), line(kind, std::move(points), value));
    };
    const auto matches = [&](CorrectionKind kind, std::vector<GeoPoint> points, const char* value, EdgeId e) {
        const CorrectionMatch m = match(kind, std::move(points), value);
        EXPECT_EQ(m.state, State::matched) << m.why;
        EXPECT_EQ(m.edges, std::vector<EdgeId>{e});
    };
    // Beside it on either side of the line; the road lies on the western one.
    for (const double east_m : {-12.0, -1.0, 1.0, 6.0}) {
        matches(CorrectionKind::surface, {place(east_m, 50), place(east_m, 950)}, "gravel", along);
        matches(CorrectionKind::closed, {place(east_m, 500)}, "", along);
    }
    for (const double east_m : {-25.0, 1.0, 20.0})
        matches(CorrectionKind::stop, {place(east_m, 500)}, "", along);
    EXPECT_EQ(match(CorrectionKind::stop, {place(28, 500)}, "").state, State::no_match);
    EXPECT_EQ(match(CorrectionKind::surface, {place(14, 50), place(14, 950)}, "gravel").state,
              State::no_match);
    // A line and a road that cross it, and lines on one side of the road.
    matches(CorrectionKind::surface, {place(-700, 2005), place(700, 1995)}, "gravel", over);
    matches(CorrectionKind::closed, {place(-700, 2000), place(-20, 2000)}, "", over);
    matches(CorrectionKind::closed, {place(20, 2000), place(700, 2000)}, "", over);
    EXPECT_EQ(match(CorrectionKind::surface, {place(20, 2000), place(700, 2000)}, "gravel").state,
              State::no_effect);
}

TEST(CorrectedRegion, WithoutCorrectionsNothingIsCopied) {
    const Region region = Crossing().region();
    const CorrectedRegion corrected(region, {}, Instant{0});
    EXPECT_EQ(corrected.view().edges.data(), region.view().edges.data());
    EXPECT_EQ(corrected.view().string_bytes.data(), region.view().string_bytes.data());
    // One that is over changes nothing either.
    Correction over = line(CorrectionKind::closed, {at(500, 0)});
    over.to = "1969-01-01";
    const CorrectedRegion past(region, {over}, Instant{0});
    EXPECT_EQ(past.view().edges.data(), region.view().edges.data());
    EXPECT_EQ(past.in_force_count(), 0u);
}

TEST(CorrectedRegion, ASurfaceIsKnownFromThenOn) {
    const Crossing c;
    const Region region = Crossing().region();
    Correction gravel = line(CorrectionKind::surface, {at(0, 0), at(1000, 0)}, "compacted");
    gravel.by = "Jo";
    const CorrectedRegion corrected(region, {gravel}, Instant{0});
    const EdgeRecord& e = corrected.view().edges[c.left.index()];
    EXPECT_EQ(e.odds, (SurfaceOdds{0, 200, 0}));
    EXPECT_NE(e.flags & edge_flag::known, 0);
    EXPECT_EQ(corrected.view().string(e.reason), "correction " + gravel.id + ": compacted, by Jo");
    EXPECT_EQ(corrected.on_edge(c.left), std::vector<std::size_t>{0});
    EXPECT_TRUE(corrected.on_edge(c.right).empty());
    const RoadGraph graph(corrected.view());
    EXPECT_TRUE(graph.tags(c.left).is("surface", "compacted"));
    EXPECT_TRUE(graph.tags(c.left).is("maxheight", "4.2"));
    // The region itself is as it was, and so is the other piece with its tags.
    EXPECT_EQ(region.view().edges[c.left.index()].odds, (SurfaceOdds{180, 10, 10}));
    EXPECT_EQ(corrected.view().edges[c.right.index()].odds, (SurfaceOdds{180, 10, 10}));
}

TEST(CorrectedRegion, ClosuresLimitsAndGatesAreReadByTheSameRules) {
    const Crossing c;
    const Region region = Crossing().region();
    const auto passage = [&](const Correction& correction, EdgeId e) {
        const CorrectedRegion corrected(region, {correction}, Instant{0});
        const RoadGraph graph(corrected.view());
        const VehicleRoads roads(graph, tractor(), Moment{});
        return roads.reading(graph.arc_of(e, false)).passage;
    };
    EXPECT_EQ(passage(line(CorrectionKind::closed, {at(500, 0)}), c.left), Passage::deny);
    EXPECT_EQ(passage(line(CorrectionKind::closed, {at(500, 0)}), c.right), Passage::allow);
    Correction low = line(CorrectionKind::limit, {at(500, 0)}, "maxheight=12.5");
    low.unit = "ft";  // 3.81 m
    EXPECT_EQ(passage(low, c.left), Passage::deny);
    EXPECT_EQ(passage(line(CorrectionKind::limit, {at(1500, 0)}, "maxweight=25"), c.right), Passage::allow);
    EXPECT_EQ(passage(line(CorrectionKind::limit, {at(1500, 0)}, "maxweight=19"), c.right), Passage::deny);
    EXPECT_EQ(passage(line(CorrectionKind::limit, {at(1500, 0)}, "maxaxleload=8"), c.right), Passage::check);
    EXPECT_EQ(passage(line(CorrectionKind::gate, {at(1500, 0)}, "locked"), c.right), Passage::check);
    EXPECT_EQ(passage(line(CorrectionKind::gate, {at(1500, 0)}, "key"), c.right), Passage::check);
}

// The map says 3.5 m where there is no limit any more.
TEST(CorrectedRegion, ALimitCanBeLifted) {
    TinyMap m;
    const NodeId a = m.node(at(0, 0)), b = m.node(at(500, 0));
    const EdgeId e =
        m.edge(a, b, {{"highway", "tertiary"}, {"maxheight", "3.5"}, {"maxheight:forward", "3.4"}});
    const Region region = Region::from_data(m.build());
    const CorrectedRegion corrected(region, {line(CorrectionKind::limit, {at(250, 0)}, "maxheight=none")},
                                    Instant{0});
    const RoadGraph graph(corrected.view());
    EXPECT_FALSE(graph.tags(e).has("maxheight"));
    EXPECT_FALSE(graph.tags(e).has("maxheight:forward"));
}

TEST(CorrectedRegion, AGateThatIsMappedIsOpenedOrLocked) {
    Crossing c;
    c.map.node_tags(c.middle, {{"barrier", "bollard"}});
    const Region region = Region::from_data(c.map.build());
    const auto finding = [&](const std::string& value) {
        const CorrectedRegion corrected(region, {line(CorrectionKind::gate, {at(1005, 5)}, value)},
                                        Instant{0});
        EXPECT_EQ(corrected.at_node(c.middle), std::vector<std::size_t>{0});
        const RoadGraph graph(corrected.view());
        const VehicleRoads roads(graph, tractor(), Moment{});
        const auto found = roads.node_finding(c.middle);
        return found ? found->first : Passage::allow;
    };
    EXPECT_EQ(finding("open"), Passage::allow);
    EXPECT_EQ(finding("locked"), Passage::check);
    const RoadGraph graph(region.view());
    EXPECT_TRUE(VehicleRoads(graph, tractor(), Moment{}).blocked(c.middle));
}

// What a finding says is read in the cab, where no word of the program's own is known.
TEST(CorrectedRegion, AGateSaysWhatToLookAt) {
    Crossing c;
    c.map.node_tags(c.middle, {{"barrier", "gate"}, {"access", "private"}});
    const Region region = Region::from_data(c.map.build());
    const RoadGraph graph(region.view());
    const auto found = VehicleRoads(graph, tractor(), Moment{}).node_finding(c.middle);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->second.substr(0, 6), "gate: ");
    EXPECT_EQ(found->second.find('_'), std::string::npos) << found->second;
}

TEST(CorrectedRegion, StopPlacesComeAndGo) {
    Crossing c;
    c.map.stop_place(c.left, 3000, StopPlaceKind::lay_by, "old lay-by");
    c.map.stop_place(c.right, 5000, StopPlaceKind::parking);
    const Region region = Region::from_data(c.map.build());
    Correction gone = line(CorrectionKind::no_stop, {at(310, 10)});
    Correction yard = line(CorrectionKind::stop, {at(500, -20)}, "Jo's yard");
    const CorrectedRegion corrected(region, {gone, yard}, Instant{0});
    const auto stops = corrected.view().stop_places;
    ASSERT_EQ(stops.size(), 2u);
    EXPECT_EQ(stops[0].kind, StopPlaceKind::parking);
    EXPECT_EQ(stops[1].kind, StopPlaceKind::named);
    EXPECT_EQ(corrected.view().string(stops[1].name), "Jo's yard");
    EXPECT_EQ(EdgeId{stops[1].edge}, c.left);
    EXPECT_NEAR(stops[1].offset_dm, 5000, 20);
    EXPECT_EQ(stops[1].flags, stop_flag::right_forward);  // south of a road that runs east
    EXPECT_EQ(corrected.of_stop_place(0), std::nullopt);
    EXPECT_EQ(corrected.of_stop_place(1), std::optional<std::size_t>(1));
    EXPECT_EQ(region.view().stop_places.size(), 2u);
}

TEST(CorrectedRegion, OnlyWhatHoldsAtTheMomentCounts) {
    const Crossing c;
    const Region region = Crossing().region();  // in UTC
    Correction closed = line(CorrectionKind::closed, {at(500, 0)});
    closed.from = "2026-07-10";
    closed.to = "2026-07-12";
    const auto in_force = [&](const char* time) {
        return CorrectedRegion(region, {closed}, parse_time(time, TimeZone())).in_force(0);
    };
    EXPECT_FALSE(in_force("2026-07-09T23:59"));
    EXPECT_TRUE(in_force("2026-07-10T00:00"));
    EXPECT_TRUE(in_force("2026-07-12T23:59"));
    EXPECT_FALSE(in_force("2026-07-13T00:00"));
}

TEST(CorrectedRegion, TheLaterNotedWinsAndItIsSaid) {
    const Crossing c;
    const Region region = Crossing().region();
    Correction newer = line(CorrectionKind::surface, {at(500, 0)}, "asphalt");
    newer.noted = "2026-06-01";
    Correction older = line(CorrectionKind::surface, {at(500, 0)}, "gravel");
    older.noted = "2026-05-01T10:00";
    const CorrectedRegion corrected(region, {newer, older}, Instant{0});
    EXPECT_EQ(corrected.view().edges[c.left.index()].odds.hard, 200);
    ASSERT_EQ(corrected.conflicts().size(), 1u);
    EXPECT_EQ(corrected.conflicts()[0].winner, 0u);
    EXPECT_EQ(corrected.conflicts()[0].text,
              older.id + " says gravel, " + newer.id +
                  " says asphalt of the same road (OSM way 1000): " + newer.id + ", noted later, counts");
    // Not at the same time: no quarrel.
    older.to = "2026-05-31";
    newer.from = "2026-06-01";
    EXPECT_TRUE(CorrectedRegion(region, {newer, older}, Instant{0}).conflicts().empty());
    // The same word twice is none, nor are limits of different kinds, nor 3.81 m and 12.5 ft.
    Correction same = older;
    same.id = "same";
    EXPECT_TRUE(CorrectedRegion(region, {older, same}, Instant{0}).conflicts().empty());
    Correction height = line(CorrectionKind::limit, {at(500, 0)}, "maxheight=3.81");
    Correction feet = line(CorrectionKind::limit, {at(500, 0)}, "maxheight=12.5");
    feet.unit = "ft";
    Correction mass = line(CorrectionKind::limit, {at(500, 0)}, "maxweight=12");
    EXPECT_TRUE(CorrectedRegion(region, {height, feet, mass}, Instant{0}).conflicts().empty());
    feet.value = "maxheight=12";
    EXPECT_EQ(CorrectedRegion(region, {height, feet, mass}, Instant{0}).conflicts().size(), 1u);
    // A stop that another denies.
    Correction stop = line(CorrectionKind::stop, {at(500, 10)});
    Correction none = line(CorrectionKind::no_stop, {at(510, 0)});
    const CorrectedRegion both(region, {stop, none}, Instant{0});
    EXPECT_EQ(both.conflicts().size(), 1u);
    EXPECT_TRUE(both.view().stop_places.empty());
    EXPECT_EQ(CorrectedRegion(region, {none, stop}, Instant{0}).view().stop_places.size(), 1u);
}

}  // namespace
