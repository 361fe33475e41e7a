// SPDX-License-Identifier: Apache-2.0
// Moves as far out as they may be asked: over the date line and at the poles, of hardly any length and of
// 500 km, with a stop every kilometre; and thousands of drawn moves with drawn machines, prices and weather,
// of which everything in plan_invariants.h holds.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <numbers>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/belt/guide_lug.h"
#include "loamway/belt/heat_model.h"
#include "loamway/plan/inputs.h"
#include "support/ordered_region.h"
#include "support/plan_invariants.h"
#include "support/random_inputs.h"
#include "support/random_map.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using test::check_invariants;
using test::HeatBounds;
using test::RandomInputs;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// `north_m` and `east_m` of a place, over the date line and the pole's neighbourhood too.
GeoPoint moved(GeoPoint from, double north_m, double east_m) {
    const double lat = std::clamp(from.lat() + north_m / 111200, -90.0, 90.0);
    const double circle = std::max(1e-4, std::cos(lat * std::numbers::pi / 180));
    return GeoPoint::from_degrees(lat, std::remainder(from.lon() + east_m / 111200 / circle, 360));
}

TinyTags drawn_tags(TestRandom& random) {
    constexpr const char* classes[] = {"track",     "unclassified", "tertiary",
                                       "secondary", "residential",  "service"};
    TinyTags tags{{"highway", classes[random.below(6)]}};
    if (random.chance(8))
        tags.emplace_back("maxweight", random.chance(50) ? "12" : "40");
    if (random.chance(8))
        tags.emplace_back("maxspeed", random.chance(50) ? "20" : "70");
    if (random.chance(5))
        tags.emplace_back("oneway", "yes");
    if (random.chance(4))
        tags.emplace_back("access", "private");
    if (random.chance(3))
        tags.emplace_back("surface", "concrete");
    return tags;
}

/// A crooked grid of roads around a place, `step_m` apart, some with hills, with places to stop.
RegionData drawn_map(TestRandom& random, GeoPoint corner, std::uint32_t side, double step_m) {
    TinyMap map;
    std::vector<NodeId> nodes;
    const auto jitter = [&] { return step_m * 0.3 * (static_cast<double>(random.below(1000)) / 1000 - 0.5); };
    for (std::uint32_t r = 0; r < side; ++r)
        for (std::uint32_t c = 0; c < side; ++c)
            nodes.push_back(map.node(moved(corner, r * step_m + jitter(), c * step_m + jitter())));
    const bool hills = random.chance(30);
    const auto join = [&](std::size_t a, std::size_t b) {
        TinyEdge e;
        e.tags = drawn_tags(random);
        const auto hard = static_cast<std::uint8_t>(random.below(201));
        const auto gravel = static_cast<std::uint8_t>(random.below(201u - hard));
        e.known = random.chance(40);
        e.odds = {hard, gravel, static_cast<std::uint8_t>(200 - hard - gravel)};
        if (e.known)
            e.odds = random.chance(50) ? SurfaceOdds{200, 0, 0} : SurfaceOdds{0, 200, 0};
        if (random.chance(20))
            e.winding_dm = random.below(static_cast<std::uint32_t>(step_m * 10) + 1);
        const EdgeId id = map.road(nodes[a], nodes[b], e);
        if (hills && map.length_dm(id) < 100000)
            map.heights(id, {static_cast<double>(random.below(60)), static_cast<double>(random.below(60))});
        if (random.chance(40))
            map.stop_place(id, map.length_dm(id) / 2,
                           random.chance(30) ? StopPlaceKind::yard : StopPlaceKind::lay_by);
    };
    for (std::size_t n = 0; n < nodes.size(); ++n) {
        if ((n + 1) % side != 0 && !random.chance(8))
            join(n, n + 1);
        if (n + side < nodes.size() && !random.chance(8))
            join(n, n + side);
    }
    return random.chance(50) ? ordered(map.build()) : map.build();
}

constexpr double coldest(const Conditions& c) {
    return c.air_range ? c.air_range->low.celsius() : c.air.celsius();
}
double warmest(const Conditions& c) {
    return c.air_range ? c.air_range->high.celsius() : c.air.celsius();
}

/// The hottest that anything settles at, on any ground, at any speed this machine drives, on any slope of the
/// maps here, in the warmest air under the full sun; 5 K and 5 % more for the reduced model.
HeatBounds bounds_of(const PlanInputs& in) {
    HeatBounds b;
    b.low_c = coldest(in.conditions);
    const auto hottest = [&](double scale) {
        HeatParameters p;
        p.scales.heat = scale;
        const HeatModel model(in.machine, in.machine.state({}), p, {}, in.belts.bar_height);
        double most = warmest(in.conditions);
        for (int ground = 0; ground < static_cast<int>(road_surface_count); ++ground)
            for (double kmh = 0; kmh <= in.machine.top.kmh() + 1; kmh += 0.5)
                for (const double grade : {-0.3, 0.0, 0.3}) {
                    Driving d{static_cast<RoadSurface>(ground), Speed::from_kmh(kmh),
                              Temperature::from_celsius(warmest(in.conditions)), 1.0, grade};
                    most =
                        std::max(most, SteadyBar(model.belt(), model.regime(d), p.rubber).core().celsius());
                }
        return most + 5 + 0.08 * std::max(0.0, most - b.low_c);
    };
    b.bar_c = hottest(1);
    b.bar_high_c = hottest(std::exp(in.heat.log_sd));
    const GuideLug lug(most_loaded_belt(in.machine, in.machine.state({}), in.belts.bar_height));
    b.guide_lug_c = warmest(in.conditions);
    for (int ground = 0; ground < static_cast<int>(road_surface_count); ++ground)
        for (double kmh = 0.5; kmh <= in.machine.top.kmh() + 1; kmh += 0.5) {
            const Driving d{static_cast<RoadSurface>(ground), Speed::from_kmh(kmh),
                            Temperature::from_celsius(warmest(in.conditions)), 1.0, 0};
            b.guide_lug_c = std::max(b.guide_lug_c, lug.settled(0.6 * 1.4, d).celsius());
        }
    b.guide_lug_c += 0.1;
    return b;
}

PlanInputs drawn_inputs(RandomInputs& draw) {
    TestRandom& random = draw.random();
    PlanInputs in;
    in.machine = draw.machine();
    in.belts = draw.belts(in.machine);
    in.low_bed = draw.low_bed();
    in.rates = random.chance(70) ? draw.rates() : Rates();
    in.conditions = draw.conditions();
    in.depart = {static_cast<std::int64_t>(random.below(2000000000))};
    in.detour_cap = draw.number(0, 10);
    in.mixed = random.chance(50);
    in.front = random.chance(50);
    in.trials = 1 + static_cast<int>(random.below(30));
    in.seed = random.next() >> 12;
    in.return_trip = random.chance(10);
    in.units = random.chance(50) ? "metric" : "imperial";
    in.other_hours = random.chance(20);
    if (random.chance(20)) {
        in.recipe.permit_from_width = Length::from_metres(draw.number(1, 12));
        in.recipe.escort_from_width = Length::from_metres(draw.number(1, 12));
    }
    return in;
}

GeoPoint end_on(TestRandom& random, const RegionData& map) {
    const std::uint32_t n = random.below(static_cast<std::uint32_t>(map.node_lat.size()));
    const GeoPoint p{map.node_lat[n], map.node_lon[n]};
    return random.chance(50) ? p : moved(p, random.below(300), random.below(300));
}

struct Counts {
    int planned = 0, refused = 0, feasible = 0, driven_far = 0;
};

// A move that is refused is refused by a line for people.
void plan_and_check(const PlanInputs& in, Counts& n, const std::string& what) {
    try {
        const Plan plan = make_plan(in);
        ++n.planned;
        n.feasible += plan.verdict.option.empty() ? 0 : 1;
        for (const Option& o : plan.options)
            n.driven_far += o.mode == Mode::drive && o.feasible && o.stops.size() > 1 ? 1 : 0;
        const auto faults = check_invariants(plan, bounds_of(in));
        EXPECT_THAT(faults, IsEmpty()) << what;
    } catch (const Error& e) {
        ++n.refused;
        EXPECT_NE(e.kind(), ErrorKind::internal) << e.what() << " " << what;
        EXPECT_NE(e.kind(), ErrorKind::damaged) << e.what() << " " << what;
    }
}

int how_many(int usual) {
    const char* said = std::getenv("LOAMWAY_TEST_MOVES");
    return said != nullptr ? std::atoi(said) : usual;
}

struct Place {
    const char* name;
    double lat, lon;
};
constexpr Place corners[] = {
    {"mid latitudes", 53.5, 13.0},           {"over the date line", 51.0, 179.97},
    {"by the north pole", 89.7, 20},         {"by the south pole", -89.95, 179.9},
    {"equator and Greenwich", -0.02, -0.02}, {"date line on the equator", -0.05, -180}};

TEST(ExtremeMoves, OfDrawnMovesAllThatMustHoldHolds) {
    Counts n;
    const int moves = how_many(400);
    for (int i = 0; i < moves; ++i) {
        RandomInputs draw(static_cast<std::uint64_t>(i) + 1);
        TestRandom& random = draw.random();
        const Place& place = corners[random.below(6)];
        const double step_m = random.chance(40) ? 200 : random.chance(50) ? 1500 : 6000;
        const RegionData map =
            drawn_map(random, GeoPoint::from_degrees(place.lat, place.lon), 3 + random.below(5), step_m);
        const GeoPoint from = end_on(random, map), to = end_on(random, map);
        const Region region = Region::from_data(map);
        PlanInputs in = drawn_inputs(draw);
        in.region = &region;
        in.from = {"Barn", from};
        in.to = {"Field", to};
        plan_and_check(in, n, fmt::format("move {}, {}", i, place.name));
    }
    std::printf("%d planned, %d of them can be done, %d ways with several stops, %d refused\n", n.planned,
                n.feasible, n.driven_far, n.refused);
    EXPECT_GT(n.planned, moves / 3);
    EXPECT_GT(n.feasible, moves / 8);
    EXPECT_GT(n.driven_far, moves / 100);
}

/// A straight gravel road eastwards from a place, in pieces of 5 km with lay-bys `apart_m` apart.
RegionData straight_road(GeoPoint from, int pieces, double apart_m) {
    constexpr double piece_m = 5000;
    TinyMap map;
    NodeId last = map.node(from);
    for (int i = 1; i <= pieces; ++i) {
        const NodeId next = map.node(moved(from, 0, i * piece_m));
        const EdgeId e = map.edge(last, next, {{"highway", "unclassified"}});
        for (double at = apart_m / 2; at < piece_m; at += apart_m)
            map.stop_place(e, static_cast<std::uint32_t>(at * 10), StopPlaceKind::lay_by);
        last = next;
    }
    return map.build();
}

struct RoadMove {
    RoadMove(GeoPoint west, int pieces, double apart_m, bool eastwards = true)
        : data(straight_road(west, pieces, apart_m)), region(Region::from_data(data)) {
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.region = &region;
        const GeoPoint a{data.node_lat.front(), data.node_lon.front()};
        const GeoPoint b{data.node_lat.back(), data.node_lon.back()};
        in.from = {"Barn", eastwards ? a : b};
        in.to = {"Field", eastwards ? b : a};
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
    }
    [[nodiscard]] Option driven() const {
        const Plan plan = make_plan(in);
        EXPECT_THAT(check_invariants(plan, bounds_of(in)), IsEmpty());
        return plan.options.front();
    }
    RegionData data;
    Region region;
    PlanInputs in;
};

TEST(ExtremeMoves, FiveHundredKilometres) {
    const RoadMove road(GeoPoint::from_degrees(53.5, 13.0), 100, 2500);
    const Option o = road.driven();
    EXPECT_TRUE(o.feasible);
    EXPECT_NEAR(*o.length_m, 500000, 2500);
    EXPECT_GE(o.stops.size(), 33u);
}

TEST(ExtremeMoves, AStopEveryKilometreForTwoThousandKilometres) {
    RoadMove road(GeoPoint::from_degrees(0, 13.0), 400, 400);
    road.in.rates.relube_interval = Length::from_km(1);
    road.in.front = false;
    const Option o = road.driven();
    EXPECT_TRUE(o.feasible);
    EXPECT_GE(o.stops.size(), 2000u);
}

TEST(ExtremeMoves, OverTheDateLineAMoveIsWhatItIsElsewhere) {
    for (const bool eastwards : {true, false}) {
        const Option here = RoadMove(GeoPoint::from_degrees(51, 13), 8, 2500, eastwards).driven();
        const Option there = RoadMove(GeoPoint::from_degrees(51, 179.71), 8, 2500, eastwards).driven();
        EXPECT_NEAR(*here.length_m, *there.length_m, 2);
        EXPECT_EQ(here.stops.size(), there.stops.size());
        EXPECT_EQ(here.legs[0].directions.size(), there.legs[0].directions.size());
        // Only the sun stands elsewhere.
        EXPECT_NEAR(*here.cost.total, *there.cost.total, 2);
    }
}

// A point east of the line found no road 100 m away to its west: "no road within 1.0 km, the nearest is 0.1
// km away".
TEST(ExtremeMoves, ARoadIsNearAcrossTheDateLine) {
    RoadMove road(GeoPoint::from_degrees(51, 179.5), 8, 2500);
    const GeoPoint end = road.in.to.point;
    ASSERT_LT(end.lon(), -179.9);
    // The road ends 30 m before the line, and the move 60 m beyond the end.
    RoadMove before(moved(GeoPoint::from_degrees(51, 180), 0, -20030), 4, 2500);
    ASSERT_GT(before.in.to.point.lon(), 179.99);
    before.in.to.point = moved(before.in.to.point, 0, 60);
    ASSERT_LT(before.in.to.point.lon(), -179.99);
    EXPECT_NEAR(*before.driven().length_m, 20000, 100);
}

TEST(ExtremeMoves, OneMetre) {
    RoadMove road(GeoPoint::from_degrees(51, 13), 2, 2500);
    road.in.to.point = moved(road.in.from.point, 0, 1);
    const Option o = road.driven();
    EXPECT_EQ(*o.length_m, 1);
    EXPECT_THAT(o.stops, IsEmpty());
}

TEST(ExtremeMoves, EndsThatMeetTheRoadAtOnePointAreZeroMetresApart) {
    RoadMove road(GeoPoint::from_degrees(51, 13), 2, 2500);
    road.in.from.point = moved(road.in.from.point, 300, -300);
    road.in.to.point = moved(road.in.from.point, -100, 0);
    EXPECT_EQ(*road.driven().length_m, 0);
}

// Peaks began at 0 °C: below it bars and guide lugs were said to be warmer than they got.
TEST(ExtremeMoves, InHardFrostThePeakIsBelowZero) {
    RoadMove road(GeoPoint::from_degrees(51, 13), 1, 2500);
    road.in.conditions.air = Temperature::from_celsius(-45);
    const Option o = road.driven();
    EXPECT_LT(*o.heat->guide_lug_peak_c, 0);
    EXPECT_LT(*o.heat->bar_peak_c, 0);
}

// At a light load the upper line of fuel use fell below the estimate; an engine asked for more than its power
// burnt more than it can.
TEST(ExtremeMoves, FuelHasItsUpperLineAboveItForEveryEngine) {
    RoadMove road(GeoPoint::from_degrees(51, 13), 1, 2500);
    for (const double kw : {10.0, 240.0, 2000.0}) {
        road.in.machine.engine = Power::from_kw(kw);
        const Option o = road.driven();
        EXPECT_GE(*o.fuel_high_l, *o.fuel_l);
        EXPECT_LT(*o.fuel_high_l / (*o.duration_s / 3600), 0.45 * kw + 10) << kw;
    }
}

// What a worn set fetches stands beside a set's price that is drawn up to 15 % lower: wear earned money.
TEST(ExtremeMoves, WearNeverEarnsMoney) {
    RoadMove road(GeoPoint::from_degrees(51, 13), 3, 2500);
    road.in.rates = Rates();
    road.in.rates.wage_per_h = road.in.rates.fuel_per_l = road.in.rates.repair_per_h = Money();
    road.in.rates.ownership_marginal_per_h = road.in.rates.shuttle_per_h = road.in.rates.shuttle_per_km =
        Money();
    road.in.rates.belt_residual = road.in.rates.belt_set + road.in.rates.belt_fitting;
    EXPECT_GE(*road.driven().cost.low, 0);
}

// A cost beyond 1e9 was written and could not be read back.
TEST(ExtremeMoves, PricesBeyondAllMeasureAreRefused) {
    RoadMove road(GeoPoint::from_degrees(51, 13), 1, 2500);
    road.in.rates.delay_per_h = Money::from_units(1e7);
    road.in.rates.expected_delay = Duration::from_hours(24);
    try {
        (void)make_plan(road.in);
        ADD_FAILURE() << "planned";
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::limit);
        EXPECT_THAT(e.what(), HasSubstr("unit of money worth more"));
    }
}

}  // namespace
}  // namespace loamway
