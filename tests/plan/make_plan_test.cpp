// SPDX-License-Identifier: Apache-2.0
// The rules of the job on maps of a few roads: what a plan must say when belts are new, washed or hot, when a
// ford lies on the way, when no place is fit to stop, and when there is no way at all.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::SizeIs;

// One straight gravel or paved road west to east, cut into pieces of 5 km, with a track in between.
struct LongRoad {
    explicit LongRoad(int pieces, SurfaceOdds odds = {0, 200, 0}, const char* highway = "unclassified") {
        const double step = 5000.0 / 66200.0;  // degrees of longitude that are 5 km at this latitude, about
        for (int i = 0; i <= pieces; ++i)
            nodes.push_back(map.node(53.5, 13.0 + i * step));
        for (int i = 0; i < pieces; ++i) {
            TinyEdge e;
            e.tags = {{"highway", highway}};
            e.odds = odds;
            e.length_dm = 50000;
            edges.push_back(
                map.road(nodes[static_cast<std::size_t>(i)], nodes[static_cast<std::size_t>(i) + 1], e));
        }
    }
    void lay_by(std::size_t edge, std::uint32_t offset_dm = 25000) {
        map.stop_place(edges[edge], offset_dm, StopPlaceKind::lay_by, "Long lay-by");
    }
    TinyMap map;
    std::vector<NodeId> nodes;
    std::vector<EdgeId> edges;
};

PlanInputs inputs(const Region& region, GeoPoint from, GeoPoint to, const char* profile = "medium") {
    PlanInputs in;
    in.region = &region;
    in.from = {"Barn", from};
    in.to = {"Field", to};
    const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/" + profile + ".toml";
    in.machine = read_machine(parse_toml(read_text_file(file), file), file);
    in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
    return in;
}

struct Planned {
    std::unique_ptr<Region> region;
    PlanInputs in;
};
// The move along the whole road.
Planned whole_road(LongRoad& road, const char* profile = "medium") {
    Planned p;
    p.region = std::make_unique<Region>(Region::from_data(road.map.build()));
    p.in = inputs(*p.region, road.map.point(road.nodes.front()), road.map.point(road.nodes.back()), profile);
    return p;
}

const Option& driven(const Plan& plan) {
    for (const Option& o : plan.options)
        if (o.mode == Mode::drive)
            return o;
    throw std::runtime_error("no driven option");
}
std::vector<std::string> kinds(const Option& o) {
    std::vector<std::string> out;
    for (const PlanStop& s : o.stops)
        out.push_back(s.kind);
    return out;
}
ErrorKind error_of(const PlanInputs& in, const std::string& part) {
    try {
        (void)make_plan(in);
    } catch (const Error& e) {
        EXPECT_THAT(e.what(), HasSubstr(part));
        return e.kind();
    }
    ADD_FAILURE() << "no error";
    return ErrorKind::internal;
}

TEST(MakePlan, FifteenKilometresNeedNoStopAndTwentyNeedOne) {
    LongRoad fifteen(3);
    const Planned a = whole_road(fifteen);
    EXPECT_THAT(driven(make_plan(a.in)).stops, SizeIs(0));
    LongRoad twenty(4);
    twenty.lay_by(1);
    const Planned b = whole_road(twenty);
    const Option o = driven(make_plan(b.in));
    ASSERT_EQ(kinds(o), std::vector<std::string>{"relube"});
    EXPECT_NEAR(o.stops[0].at_m, 7500, 0.1);
    EXPECT_TRUE(o.feasible);
    EXPECT_EQ(*o.length_m, 20000);
}

// Bars of 10 mm where a belt is replaced at 18 were driven without a word.
TEST(MakePlan, WornBarsAreSaidBeforeAnyDriving) {
    LongRoad road(2);
    Planned p = whole_road(road);
    const auto said = [&](std::optional<double> mm) {
        p.in.belts.bar_height = mm ? std::optional(Length::from_mm(*mm)) : std::nullopt;
        const Plan plan = make_plan(p.in);
        std::string text;
        for (const Flag& f : driven(plan).flags)
            if (f.kind == "worn_bars") {
                EXPECT_EQ(f.severity, Severity::check);
                text = f.text;
            }
        if (!text.empty()) {
            EXPECT_THAT(plan.verdict.reasons, ::testing::Contains("Before any driving: " + text));
        }
        return text;
    };
    const double worn = p.in.machine.belts.worn_height.mm();
    EXPECT_EQ(said(std::nullopt), "");
    EXPECT_EQ(said(worn + 20), "");
    EXPECT_THAT(said(worn), HasSubstr("are worn out"));
    EXPECT_THAT(said(10), AllOf(HasSubstr("bars of 10 mm are worn out"), HasSubstr("cord may be near")));
    p.in.machine.belts.worn_height = Length::from_mm(5);
    EXPECT_THAT(said(12), HasSubstr("under a quarter of their new height"));
}

TEST(MakePlan, WithoutAPlaceItAsksForOne) {
    LongRoad road(4);
    Planned p = whole_road(road);
    const Plan plan = make_plan(p.in);
    EXPECT_FALSE(driven(plan).feasible);
    ASSERT_THAT(driven(plan).answer_needed, SizeIs(1));
    EXPECT_THAT(driven(plan).answer_needed[0], HasSubstr("between km 5.0 and km 15.0"));
    // The place it asked for helps.
    p.in.user_stops.push_back(
        {"Gate by the oak", interpolate(road.map.point(road.nodes[2]), road.map.point(road.nodes[3]), 0.4)});
    const Option o = driven(make_plan(p.in));
    EXPECT_TRUE(o.feasible);
    ASSERT_THAT(o.stops, SizeIs(1));
    EXPECT_EQ(o.stops[0].place, "Gate by the oak");
}

// 20 km with two lay-bys; the better one, on the right, has a school within 200 m.
LongRoad road_past_a_school() {
    LongRoad road(4);
    road.lay_by(1, 10000);
    TinyStop school;
    school.edge = road.edges[2];
    school.offset_dm = 25000;
    school.kind = StopPlaceKind::lay_by;
    school.flags = stop_flag::right_forward | stop_flag::near_school;
    school.score = 9;
    road.map.stop_place(school);
    return road;
}

TEST(MakePlan, NearASchoolNobodyStandsInSchoolHours) {
    LongRoad road = road_past_a_school();
    Planned p = whole_road(road);
    const auto stop_at = [&](const char* time) {
        p.in.depart = parse_time(time, TimeZone());
        return driven(make_plan(p.in)).stops.at(0);
    };
    EXPECT_NEAR(stop_at("2026-07-14T09:00:00Z").at_m, 6000, 0.1) << "a Tuesday morning";
    EXPECT_NEAR(stop_at("2026-07-14T04:30:00Z").at_m, 6000, 0.1) << "on the way when the school day begins";
    EXPECT_NEAR(stop_at("2026-07-14T17:00:00Z").at_m, 12500, 0.1) << "in the evening";
    EXPECT_NEAR(stop_at("2026-07-18T09:00:00Z").at_m, 12500, 0.1) << "a Saturday";
    EXPECT_THAT(stop_at("2026-07-18T09:00:00Z").cautions,
                ::testing::Contains(HasSubstr("School within 200 m")));
}

TEST(MakePlan, TheRecipesSchoolHoursCount) {
    LongRoad road = road_past_a_school();
    Planned p = whole_road(road);
    p.in.recipe.school_hours = DayHours{13.5, 17};
    const auto stop_at_m = [&](const char* time) {
        p.in.depart = parse_time(time, TimeZone());
        return driven(make_plan(p.in)).stops.at(0).at_m;
    };
    EXPECT_NEAR(stop_at_m("2026-07-14T07:00:00Z"), 12500, 0.1);
    EXPECT_NEAR(stop_at_m("2026-07-14T13:00:00Z"), 6000, 0.1);
}

TEST(MakePlan, WideMovesOutsideTheRecipesHoursAreFlagged) {
    LongRoad road(2);
    Planned p = whole_road(road);
    p.in.recipe.permit_from_width = Length::from_metres(2.0);  // every machine is as wide
    const auto flagged = [&](const char* time) {
        p.in.depart = parse_time(time, TimeZone());
        const std::vector<Flag> flags = driven(make_plan(p.in)).flags;
        return std::any_of(flags.begin(), flags.end(), [](const Flag& f) { return f.kind == "hours"; });
    };
    EXPECT_FALSE(flagged("2026-07-14T05:30:00Z")) << "no rule known";
    p.in.recipe.wide_move_hours = DayHours{6, 20};
    EXPECT_TRUE(flagged("2026-07-14T05:30:00Z"));
    EXPECT_FALSE(flagged("2026-07-14T09:00:00Z"));
    EXPECT_TRUE(flagged("2026-07-14T19:50:00Z")) << "arrives too late";
    p.in.recipe.wide_move_hours = DayHours{22, 5};
    EXPECT_FALSE(flagged("2026-07-14T23:50:00Z")) << "over midnight";
    EXPECT_FALSE(flagged("2026-07-14T03:00:00Z"));
    EXPECT_TRUE(flagged("2026-07-14T04:50:00Z")) << "arrives too late";
    EXPECT_TRUE(flagged("2026-07-14T21:50:00Z")) << "leaves too early";
    EXPECT_TRUE(flagged("2026-07-14T12:00:00Z"));
    p.in.recipe.wide_move_hours = DayHours{0, 24};
    EXPECT_FALSE(flagged("2026-07-14T23:50:00Z"));
    p.in.recipe.permit_from_width = Length::from_metres(9.0);
    EXPECT_FALSE(flagged("2026-07-14T05:30:00Z")) << "not as wide";
}

TEST(MakePlan, DryStubbleIsACautionInTheFireSeason) {
    LongRoad road(4);
    TinyStop s;
    s.edge = road.edges[1];
    s.offset_dm = 25000;
    s.flags = stop_flag::soft_ground;
    road.map.stop_place(s);
    Planned p = whole_road(road);
    const auto warns = [&](const char* time, Ground ground) {
        p.in.depart = parse_time(time, TimeZone());
        p.in.conditions.ground = ground;
        const std::vector<std::string> cautions = driven(make_plan(p.in)).stops.at(0).cautions;
        return std::any_of(cautions.begin(), cautions.end(),
                           [](const std::string& c) { return c.starts_with("Fire season"); });
    };
    EXPECT_TRUE(warns("2026-07-14T09:00:00Z", Ground::dry));
    EXPECT_FALSE(warns("2026-07-14T09:00:00Z", Ground::moist));
    EXPECT_FALSE(warns("2026-11-14T09:00:00Z", Ground::dry));
}

TEST(MakePlan, KilometresSinceTheLastPowderCount) {
    LongRoad road(2);
    road.lay_by(0);
    Planned p = whole_road(road);
    p.in.belts.since_lube = Length::from_km(7);
    const Option o = driven(make_plan(p.in));
    ASSERT_EQ(kinds(o), std::vector<std::string>{"relube"});
    EXPECT_NEAR(o.stops[0].since_relube_m, 9500, 0.1);
    // Beyond the interval: powder before leaving, then 10 km are no matter.
    p.in.belts.since_lube = Length::from_km(40);
    const Option late = driven(make_plan(p.in));
    ASSERT_EQ(kinds(late), std::vector<std::string>{"start"});
    EXPECT_THAT(late.stops[0].why, HasSubstr("40.0 km back"));
}

TEST(MakePlan, WashedBeltsStartWithPowderAndSlowly) {
    LongRoad road(2);
    Planned p = whole_road(road);
    const Option plain = driven(make_plan(p.in));
    p.in.belts.condition = BeltsNow::Condition::washed;
    const Option washed = driven(make_plan(p.in));
    ASSERT_EQ(kinds(washed), std::vector<std::string>{"start"});
    // 15 minutes at 15 km/h are 3.75 km, which take 7.5 minutes at the 30 km/h of gravel.
    EXPECT_NEAR(*washed.driving_s - *plain.driving_s, 7.5 * 60, 1);
}

TEST(MakePlan, FrozenGroundStartsWithPowder) {
    LongRoad road(2);
    Planned p = whole_road(road);
    p.in.conditions.ground = Ground::frozen;
    EXPECT_EQ(kinds(driven(make_plan(p.in))), std::vector<std::string>{"start"});
}

TEST(MakePlan, BeltsNotRunInAreNeverSentOntoTheRoad) {
    LongRoad road(2);
    Planned p = whole_road(road);
    p.in.belts.condition = BeltsNow::Condition::not_run_in;
    const Plan plan = make_plan(p.in);
    EXPECT_FALSE(driven(plan).feasible);
    EXPECT_THAT(driven(plan).why_not[0], HasSubstr("precondition"));
    EXPECT_NE(plan.verdict.mode, Mode::drive);
    p.in.belts.preconditioned = true;
    EXPECT_TRUE(driven(make_plan(p.in)).feasible);
}

TEST(MakePlan, AfterAFordTheNextPlaceIsAStop) {
    LongRoad road(3);
    road.lay_by(2, 10000);
    road.map.node_tags(road.nodes[1], {{"ford", "yes"}});
    const Planned p = whole_road(road);
    const Option o = driven(make_plan(p.in));
    ASSERT_EQ(kinds(o), std::vector<std::string>{"relube"});
    EXPECT_NEAR(o.stops[0].at_m, 11000, 0.1);
    EXPECT_THAT(o.stops[0].why, HasSubstr("ford"));
}

// A rest area 3 km down a side road: driven to, turned round in, and back again.
TEST(MakePlan, APlaceOffTheWayIsDrivenToWhereOneMayTurn) {
    for (const StopPlaceKind kind : {StopPlaceKind::rest_area, StopPlaceKind::lay_by}) {
        LongRoad road(4);
        const NodeId far = road.map.node(53.6, 13.0 + 2 * 5000.0 / 66200.0);
        TinyEdge e;
        e.tags = {{"highway", "unclassified"}};
        e.odds = {0, 200, 0};
        e.length_dm = 200000;
        const EdgeId side = road.map.road(road.nodes[2], far, e);
        road.map.stop_place(side, 30000, kind, "Oak Green");
        const Planned p = whole_road(road);
        const Option o = driven(make_plan(p.in));
        if (kind == StopPlaceKind::lay_by) {
            EXPECT_FALSE(o.feasible);  // no room, and the end of the side road is too far
            continue;
        }
        EXPECT_TRUE(o.feasible);
        ASSERT_EQ(kinds(o), std::vector<std::string>{"relube"});
        EXPECT_NEAR(o.stops[0].at_m, 13000, 0.1);
        EXPECT_EQ(*o.length_m, 26000);
        EXPECT_THAT(o.stops[0].cautions, ::testing::Contains(HasSubstr("Turn round here")));
        EXPECT_THAT(o.legs[0].directions[2].text, HasSubstr("Turn round and go back"));
    }
}

TEST(MakePlan, YoungBeltsAreCheckedAfterTheFirstKilometres) {
    LongRoad road(2);
    road.lay_by(0, 40000);
    Planned p = whole_road(road);
    p.in.belts.hours = 60;
    const Option o = driven(make_plan(p.in));
    ASSERT_EQ(kinds(o), (std::vector<std::string>{"start", "check"}));
    EXPECT_NEAR(o.stops[1].at_m, 4000, 0.1);
    EXPECT_THAT(o.stops[1].to_do[1], HasSubstr("compare"));
    // A check is no lubrication: one portion of powder is paid for, that of the start.
    EXPECT_EQ(*o.cost.lubricant, p.in.rates.lubricant_per_stop.units());
    p.in.belts.hours = 200;
    EXPECT_THAT(driven(make_plan(p.in)).stops, SizeIs(0));
}

// The guide lugs were taken as powdered at every stop, a check stop too, and so as too cool afterwards.
TEST(MakePlan, ACheckStopPutsNoPowderOnTheGuideLugs) {
    LongRoad with(3), without(3);
    with.lay_by(0, 40000);
    Planned a = whole_road(with), b = whole_road(without);
    a.in.belts.hours = b.in.belts.hours = 60;
    const Option checked = driven(make_plan(a.in)), straight = driven(make_plan(b.in));
    ASSERT_EQ(kinds(checked), (std::vector<std::string>{"start", "check"}));
    ASSERT_EQ(kinds(straight), std::vector<std::string>{"start"});
    // 11 km after five minutes of standing little of the pause is left; powder would be worth more.
    EXPECT_NEAR(checked.heat->profile.back().guide_lug_c, straight.heat->profile.back().guide_lug_c, 1.0);
}

TEST(MakePlan, HeatSlowsAPavedRoadDownOnAHotDayOnly) {
    LongRoad road(9, {200, 0, 0});
    for (std::size_t e = 0; e < 9; e += 2)
        road.lay_by(e);
    Planned p = whole_road(road);
    p.in.conditions.air = Temperature::from_celsius(35);
    const Option hot = driven(make_plan(p.in));
    ASSERT_TRUE(hot.heat);
    EXPECT_TRUE(hot.feasible);
    EXPECT_LE(*hot.heat->bar_high_c, *hot.heat->limit_c);
    EXPECT_LT(*hot.heat->bar_low_c, *hot.heat->bar_peak_c);
    EXPECT_LT(*hot.heat->bar_peak_c, *hot.heat->bar_high_c);
    EXPECT_LT(*hot.speed_caps_kmh[0], 40);
    p.in.conditions.air = Temperature::from_celsius(-5);
    const Option cold = driven(make_plan(p.in));
    EXPECT_GT(*cold.speed_caps_kmh[0], *hot.speed_caps_kmh[0]);
    EXPECT_LT(*cold.duration_s, *hot.duration_s);
    // Belts of under 50 hours have limits 15 K lower and at most 25 km/h on paved roads.
    p.in.belts.hours = 20;
    const Option young = driven(make_plan(p.in));
    EXPECT_EQ(*young.heat->limit_c, 95);
    EXPECT_LE(*young.speed_caps_kmh[0], 25);
}

// Nothing said why belts of eight hours were held to less than the machine drives.
TEST(MakePlan, YoungBeltsKeepToTheSpeedOfTheirHoursAndItIsSaid) {
    LongRoad road(2, {200, 0, 0});
    road.lay_by(0, 40000);
    Planned p = whole_road(road);
    p.in.conditions.air = Temperature::from_celsius(5);
    p.in.machine.top = p.in.machine.hard = Speed::from_kmh(40);
    const auto cap_at = [&](double hours) {
        p.in.belts.hours = hours;
        return driven(make_plan(p.in));
    };
    const Option young = cap_at(8);
    EXPECT_DOUBLE_EQ(*young.speed_caps_kmh[0], 20);
    EXPECT_THAT(young.flags,
                ::testing::Contains(::testing::Field(
                    &Flag::text, HasSubstr("belts with 8 h run: at most 20 km/h on paved roads"))));
    EXPECT_DOUBLE_EQ(*cap_at(60).speed_caps_kmh[0], 30);
    const Option old = cap_at(100);
    EXPECT_DOUBLE_EQ(*old.speed_caps_kmh[0], 40);
    EXPECT_THAT(
        old.flags,
        ::testing::Not(::testing::Contains(::testing::Field(&Flag::kind, std::string("young_belts")))));
}

// Seasons and budgets decided this beside the planner, and did not know powder that the planner had found.
TEST(MakePlan, PowderBeforeLeavingWhereItIsNeededOrCheaper) {
    LongRoad road(3);
    road.lay_by(1, 40000);
    Planned p = whole_road(road);
    p.in.belts.since_lube = Length::from_km(5);  // the lay-by at 9 km is in time
    const auto stops = [&](PowderFirst rule) {
        p.in.powder_first = rule;
        const Option o = driven(make_plan(p.in));
        const bool asked = rule == PowderFirst::yes;
        EXPECT_EQ(powders_early(p.in, o), !asked && !o.stops.empty() && o.stops.front().kind == "start");
        return kinds(o);
    };
    const std::vector<std::string> on_the_way{"relube"}, early{"start"};
    EXPECT_EQ(stops(PowderFirst::when_due), on_the_way);
    EXPECT_EQ(stops(PowderFirst::if_needed), on_the_way);
    EXPECT_EQ(stops(PowderFirst::yes), early);
    // One stop either way, but at home without the way into the lay-by.
    p.in.rates.stop_two_belts = Duration::from_minutes(10);
    const double there = *driven(make_plan(p.in)).cost.total;
    p.in.powder_first = PowderFirst::when_due;
    const double lay_by = *driven(make_plan(p.in)).cost.total;
    EXPECT_EQ(stops(PowderFirst::if_cheaper), there < lay_by ? early : on_the_way);
    p.in.belts.since_lube = Length::from_km(8);  // it is not
    EXPECT_EQ(stops(PowderFirst::if_needed), early);
    EXPECT_EQ(stops(PowderFirst::if_cheaper), early);
    // What a rule asks for is not early.
    p.in.belts.condition = BeltsNow::Condition::washed;
    EXPECT_FALSE(powders_early(p.in, driven(make_plan(p.in))));
}

// The same road, left at noon and before dawn of a day of 10 to 35 degrees: the air of each hour counts.
TEST(MakePlan, TheHourOfTheDayCounts) {
    LongRoad road(9, {200, 0, 0});
    for (std::size_t e = 0; e < 9; e += 2)
        road.lay_by(e);
    Planned p = whole_road(road);
    p.in.conditions.air_range = AirRange{Temperature::from_celsius(10), Temperature::from_celsius(35)};
    p.in.depart = parse_time("2026-07-14T12:00:00Z", TimeZone());
    const Option noon = driven(make_plan(p.in));
    p.in.depart = parse_time("2026-07-14T03:00:00Z", TimeZone());
    const Option dawn = driven(make_plan(p.in));
    EXPECT_GT(noon.heat->profile.front().bar_c, 33);
    EXPECT_LT(dawn.heat->profile.front().bar_c, 12);
    EXPECT_GT(*dawn.speed_caps_kmh[0], *noon.speed_caps_kmh[0]);
    // One value that stays gives what a day without a course gives.
    p.in.conditions.air_range = AirRange{Temperature::from_celsius(25), Temperature::from_celsius(25)};
    const Option level = driven(make_plan(p.in));
    p.in.conditions.air_range.reset();
    p.in.conditions.air = Temperature::from_celsius(25);
    EXPECT_EQ(*driven(make_plan(p.in)).heat->bar_peak_c, *level.heat->bar_peak_c);
}

TEST(MakePlan, ATableOfTheAirThatEndsIsSaid) {
    LongRoad road(2);
    Planned p = whole_road(road);
    const Temperature warm = Temperature::from_celsius(30);
    p.in.conditions.air_table = {{p.in.depart, warm, {}},
                                 {p.in.depart + Duration::from_minutes(5), warm, {}}};
    const auto said = [](const Option& o) {
        return std::count_if(o.flags.begin(), o.flags.end(),
                             [](const Flag& f) { return f.kind == "weather"; });
    };
    EXPECT_EQ(said(driven(make_plan(p.in))), 1);
    p.in.conditions.air_table.back().at = p.in.depart + Duration::from_hours(5);
    const Option o = driven(make_plan(p.in));
    EXPECT_EQ(said(o), 0);
    EXPECT_EQ(o.heat->profile.front().bar_c, 30);
}

TEST(MakePlan, ALowBedThatCannotCarryTheMachineIsNoOption) {
    LongRoad road(2);
    Planned p = whole_road(road);
    p.in.low_bed.max_load = Mass::from_tonnes(10);
    const Plan plan = make_plan(p.in);
    const Option* haul = plan.find_option("haul");
    ASSERT_NE(haul, nullptr);
    EXPECT_FALSE(haul->feasible);
    EXPECT_THAT(haul->why_not[0], HasSubstr("carries 10.0 t"));
}

TEST(MakePlan, NamesTheIslands) {
    LongRoad road(2);
    const NodeId a = road.map.node(53.60, 13.0), b = road.map.node(53.60, 13.02);
    road.map.edge(a, b, {{"highway", "unclassified"}});
    const Region region = Region::from_data(road.map.build());
    const PlanInputs in = inputs(region, road.map.point(road.nodes[0]), road.map.point(b));
    const Plan plan = make_plan(in);
    EXPECT_TRUE(plan.verdict.option.empty());
    EXPECT_THAT(driven(plan).why_not[0],
                AllOf(HasSubstr("no road joins"), HasSubstr("10.0 km"), HasSubstr("1.3 km")));
}

TEST(MakePlan, RefusesWhatIsNoQuestion) {
    LongRoad road(2);
    const Region region = Region::from_data(road.map.build());
    const GeoPoint start = road.map.point(road.nodes[0]);
    EXPECT_EQ(error_of(inputs(region, start, start), "same place"), ErrorKind::input);
    EXPECT_EQ(error_of(inputs(region, start, GeoPoint::from_degrees(53.9, 13.0)), "within 1.0 km of Field"),
              ErrorKind::not_found);
    EXPECT_EQ(
        error_of(inputs(region, start, GeoPoint::from_degrees(13.01, 53.5)), "are swapped: write LAT,LON"),
        ErrorKind::not_found);
}

TEST(MakePlan, TheSameInputsGiveTheSamePlan) {
    LongRoad road(4);
    road.lay_by(1);
    const Planned p = whole_road(road);
    EXPECT_EQ(to_json(plan_to_json(make_plan(p.in))), to_json(plan_to_json(make_plan(p.in))));
}

}  // namespace
}  // namespace loamway
