// SPDX-License-Identifier: Apache-2.0
// What is a place to load a low-bed, what is none, and how it is described: small maps with one place each.
#include "loading_places.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loamway/base/file.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::SizeIs;

// A road of 2 km, from whose middle a gravel track of 200 m branches off.
struct Country {
    Country() {
        const NodeId a = map.node(53.50, 13.000), b = map.node(53.50, 13.015), c = map.node(53.50, 13.030),
                     d = map.node(53.5018, 13.015);
        west = map.edge(a, b, {{"highway", "unclassified"}}, {200, 0, 0});
        map.edge(b, c, {{"highway", "unclassified"}}, {200, 0, 0});
        TinyEdge t;
        t.tags = {{"highway", "track"}};
        t.name = "Mill Lane";
        t.odds = {0, 200, 0};
        track = map.road(b, d, t);
    }
    TinyStop at_road(StopPlaceKind kind, std::uint32_t flags = 0) const {
        TinyStop s;
        s.edge = west;
        s.offset_dm = 4000;
        s.kind = kind;
        s.flags = flags;
        s.name = "Corner";
        return s;
    }
    TinyStop mouth(std::uint32_t usable_dm, std::uint32_t flags = 0) const {
        TinyStop s;
        s.edge = track;
        s.kind = StopPlaceKind::side_way;
        s.usable_dm = usable_dm;
        s.flags = flags | stop_flag::soft_ground;
        return s;
    }
    TinyMap map;
    EdgeId west, track;
};

std::vector<LoadingPlace> places(Country& country, const std::function<void(PlanInputs&)>& change = nullptr) {
    const Region region = Region::from_data(country.map.build());
    PlanInputs in;
    in.region = &region;
    in.from = {"A", GeoPoint::from_degrees(53.5, 13.001)};
    in.to = {"B", GeoPoint::from_degrees(53.5, 13.029)};
    const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
    in.machine = read_machine(parse_toml(read_text_file(file), file), file);
    in.depart = parse_time("2026-07-12T09:00:00Z", TimeZone());  // a Sunday
    if (change)
        change(in);
    const Setting setting(in);
    const VehicleRoads driven(setting.graph(), in.machine.vehicle(setting.state()),
                              setting.moment(in.depart));
    const Hauling hauling(setting);
    return find_loading_places(setting, driven, hauling);
}

TEST(LoadingPlaces, MappedPlacesByTheirKind) {
    for (const auto& [kind, words, room] :
         {std::tuple(StopPlaceKind::yard, "yard", "room to turn"),
          std::tuple(StopPlaceKind::rest_area, "rest area", "room to turn"),
          std::tuple(StopPlaceKind::services, "service area", "room to turn"),
          std::tuple(StopPlaceKind::parking, "parking place", "long enough"),
          std::tuple(StopPlaceKind::lay_by, "lay-by", "along the road")}) {
        Country country;
        country.map.stop_place(country.at_road(kind));
        const auto found = places(country);
        ASSERT_THAT(found, SizeIs(1)) << words;
        EXPECT_EQ(found[0].name, std::string(words) + " \"Corner\"");
        EXPECT_THAT(found[0].reason, HasSubstr(words));
        EXPECT_THAT(found[0].reason, HasSubstr("firm ground"));
        EXPECT_THAT(found[0].reason, HasSubstr(room));
        EXPECT_THAT(found[0].cautions, ElementsAre(HasSubstr("How level it is")));
    }
    Country passing;
    passing.map.stop_place(passing.at_road(StopPlaceKind::passing_place));
    EXPECT_THAT(places(passing), IsEmpty());
}

TEST(LoadingPlaces, ASideWayMustHoldLowBedRampAndMachineInARow) {
    const auto count = [](std::uint32_t usable_dm) {
        Country country;
        country.map.stop_place(country.mouth(usable_dm));
        return places(country).size();
    };
    Country country;
    country.map.stop_place(country.mouth(1500));
    const auto found = places(country);
    ASSERT_THAT(found, SizeIs(1));
    EXPECT_EQ(found[0].name, "mouth of Mill Lane");
    EXPECT_THAT(found[0].reason, HasSubstr("gravel"));
    // 16.5 m of low-bed, 4.4 m of ramp, and the machine.
    double machine_m = 0;
    (void)places(country, [&](PlanInputs& in) { machine_m = in.machine.states.front().length.metres(); });
    const auto needed = static_cast<std::uint32_t>((16.5 + 4.4 + machine_m) * 10);
    EXPECT_EQ(count(needed + 1), 1u);
    EXPECT_EQ(count(needed - 2), 0u);
}

TEST(LoadingPlaces, DeadEndsAndBusinessGroundCountLessAndAreSaid) {
    Country plain, doubtful;
    plain.map.stop_place(plain.mouth(1500));
    doubtful.map.stop_place(doubtful.mouth(1500, stop_flag::dead_end));
    const auto good = places(plain), dead_end = places(doubtful);
    ASSERT_THAT(dead_end, IsEmpty());  // score 3 less 2
    Country yard, asks;
    yard.map.stop_place(yard.at_road(StopPlaceKind::yard));
    asks.map.stop_place(asks.at_road(StopPlaceKind::yard, stop_flag::ask_permission));
    const auto free = places(yard), ask = places(asks);
    ASSERT_THAT(ask, SizeIs(1));
    EXPECT_LT(ask[0].score, free[0].score);
    EXPECT_THAT(ask[0].reason, HasSubstr("ask first"));
    EXPECT_THAT(ask[0].cautions, Contains(HasSubstr("ask before you load")));
    EXPECT_THAT(good, SizeIs(1));
}

TEST(LoadingPlaces, EarthOnlyWhenDryAndNoSlope) {
    const auto with = [](Ground ground, SurfaceOdds odds, double rise) {
        TinyMap map;
        const NodeId a = map.node(53.50, 13.000), b = map.node(53.50, 13.015), c = map.node(53.50, 13.030),
                     d = map.node(53.5018, 13.015);
        const EdgeId road = map.edge(a, b, {{"highway", "unclassified"}}, {200, 0, 0});
        map.edge(b, c, {{"highway", "unclassified"}}, {200, 0, 0});
        const EdgeId track = map.edge(b, d, {{"highway", "track"}}, odds);
        TinyStop s;
        s.edge = track;
        s.kind = StopPlaceKind::side_way;
        s.usable_dm = 1500;
        s.flags = stop_flag::soft_ground;
        map.stop_place(s);
        map.heights(track, {50, 50 + rise / 4, 50 + rise / 2, 50 + rise * 3 / 4, 50 + rise});
        map.heights(road, {50, 50});
        Country wrapped;
        wrapped.map = map;
        return places(wrapped, [&](PlanInputs& in) { in.conditions.ground = ground; });
    };
    const auto dry = with(Ground::dry, {0, 0, 200}, 0);
    ASSERT_THAT(dry, SizeIs(1));
    EXPECT_THAT(dry[0].reason, HasSubstr("earth, level"));
    EXPECT_THAT(dry[0].cautions, Contains(HasSubstr("how firm")));
    EXPECT_THAT(with(Ground::wet, {0, 0, 200}, 0), IsEmpty());
    EXPECT_THAT(with(Ground::wet, {0, 200, 0}, 0), SizeIs(1));
    // 200 m: 6 m of rise are 3 %, 12 m are 6 %.
    const auto sloping = with(Ground::dry, {0, 200, 0}, 6);
    ASSERT_THAT(sloping, SizeIs(1));
    EXPECT_THAT(sloping[0].reason, HasSubstr("3 % slope"));
    EXPECT_THAT(with(Ground::dry, {0, 200, 0}, 12), IsEmpty());
}

TEST(LoadingPlaces, NamedOnesComeFirstAndOnlyOnRoadsForBoth) {
    Country country;
    country.map.stop_place(country.at_road(StopPlaceKind::yard));
    const auto found = places(country, [](PlanInputs& in) {
        in.loading_places = {{"Green", GeoPoint::from_degrees(53.5003, 13.02)},
                             {"Far off", GeoPoint::from_degrees(53.52, 13.02)}};
    });
    ASSERT_THAT(found, SizeIs(2));
    EXPECT_EQ(found[0].name, "Green");
    EXPECT_GT(found[0].score, found[1].score);
    // On a road that the low-bed may not use nobody loads, whatever was named.
    Country narrow;
    TinyMap map;
    const NodeId a = map.node(53.50, 13.000), b = map.node(53.50, 13.015), c = map.node(53.50, 13.030);
    map.edge(a, b, {{"highway", "unclassified"}});
    map.edge(b, c, {{"highway", "unclassified"}, {"maxweight", "20"}});
    narrow.map = map;
    EXPECT_THAT(places(narrow,
                       [](PlanInputs& in) {
                           in.loading_places = {{"Weak", GeoPoint::from_degrees(53.5, 13.025)}};
                       }),
                IsEmpty());
}

TEST(LoadingPlaces, NoneNearASchoolInSchoolHours) {
    Country country;
    country.map.stop_place(country.at_road(StopPlaceKind::rest_area, stop_flag::near_school));
    EXPECT_THAT(places(country), SizeIs(1));
    EXPECT_THAT(places(country, [](PlanInputs& in) { in.depart = in.depart + Duration::from_hours(24); }),
                IsEmpty());
}

// A place named for the move that no road leads to was gone without a word.
TEST(LoadingPlaces, NamedOnesThatAreOfNoUseAreSaid) {
    Country country;
    const Region region = Region::from_data(country.map.build());
    PlanInputs in;
    in.region = &region;
    in.from = {"A", GeoPoint::from_degrees(53.5, 13.001)};
    in.to = {"B", GeoPoint::from_degrees(53.5, 13.029)};
    const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
    in.machine = read_machine(parse_toml(read_text_file(file), file), file);
    in.depart = parse_time("2026-07-12T09:00:00Z", TimeZone());
    in.mixed = true;
    in.loading_places = {{"Silo", GeoPoint::from_degrees(53.52, 13.015)},
                         {"Gate", GeoPoint::from_degrees(53.5, 13.010)}};
    const Setting setting(in);
    const VehicleRoads driven(setting.graph(), in.machine.vehicle(setting.state()),
                              setting.moment(in.depart));
    const Hauling hauling(setting);
    const auto silo = HasSubstr(
        "loading place Silo is left out: no road that carries the loaded low-bed comes within 100 m");
    EXPECT_THAT(named_places_left_out(setting, driven, hauling), ElementsAre(silo));
    const Plan plan = make_plan(in);
    const Option& mixed = *plan.find_option("mixed");
    if (mixed.feasible)
        EXPECT_THAT(mixed.flags, Contains(::testing::Field(&Flag::text, silo)));
    else
        EXPECT_THAT(mixed.why_not, Contains(silo));
}

}  // namespace
}  // namespace loamway
