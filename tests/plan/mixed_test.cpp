// SPDX-License-Identifier: Apache-2.0
// Moves partly driven and partly hauled on maps of a few roads: where the machine changes over, what it
// costs, where powder falls due, when the low-bed can come, what else it takes along, and when mixing is no
// use.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/costs/option_figures.h"
#include "loamway/plan/inputs.h"
#include "support/random_map.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

constexpr double km_lon = 1.0 / 66.2;  // degrees of longitude that are 1 km at this latitude, about

// A road from west to east: 2 km, 20 km, 2 km of gravel. At 2 km a yard, at 22 km a rest area. The weak
// pieces carry a tractor and no loaded low-bed.
struct Valley {
    Valley(bool weak_start, bool weak_end) {
        const double at[] = {0, 2, 22, 24};
        for (const double km : at)
            nodes.push_back(map.node(53.5, 13.0 + km * km_lon));
        const bool weak[] = {weak_start, false, weak_end};
        for (int i = 0; i < 3; ++i) {
            TinyEdge e;
            e.tags = {{"highway", "unclassified"}};
            if (weak[i])
                e.tags.emplace_back("maxweight", "22");
            e.length_dm = static_cast<std::uint32_t>((at[i + 1] - at[i]) * 10000);
            edges.push_back(
                map.road(nodes[static_cast<std::size_t>(i)], nodes[static_cast<std::size_t>(i) + 1], e));
        }
        map.stop_place(edges[1], 0, StopPlaceKind::yard, "West");
        map.stop_place(edges[1], 200000, StopPlaceKind::rest_area, "East");
    }
    TinyMap map;
    std::vector<NodeId> nodes;
    std::vector<EdgeId> edges;
};

struct Planned {
    Planned(Valley& valley) : region(Region::from_data(valley.map.build())) {
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.region = &region;
        in.from = {"Barn", valley.map.point(valley.nodes.front())};
        in.to = {"Field", valley.map.point(valley.nodes.back())};
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
        in.mixed = true;
        in.front = false;
    }
    [[nodiscard]] Option option(std::string_view id) const {
        const Plan plan = make_plan(in);
        const Option* o = plan.find_option(id);
        if (o == nullptr)
            throw std::runtime_error("no such option");
        return *o;
    }
    Region region;
    PlanInputs in;
};

std::vector<std::string> kinds(const Option& o) {
    std::vector<std::string> out;
    for (const PlanStop& s : o.stops)
        out.push_back(s.kind + (s.handover.empty() ? "" : " " + s.handover));
    return out;
}
std::vector<Mode> modes(const Option& o) {
    std::vector<Mode> out;
    for (const Leg& leg : o.legs)
        out.push_back(leg.mode);
    return out;
}

TEST(Mixed, TheEndsAreDrivenWhereTheLowBedCannotGo) {
    Valley valley(true, true);
    const Planned p(valley);
    const Plan plan = make_plan(p.in);
    EXPECT_FALSE(plan.find_option("haul")->feasible);
    EXPECT_THAT(plan.find_option("haul")->why_not, ElementsAre(HasSubstr(": maxweight 22")));
    const Option& o = *plan.find_option("mixed");
    ASSERT_TRUE(o.feasible);
    EXPECT_TRUE(o.exact);
    EXPECT_THAT(modes(o), ElementsAre(Mode::drive, Mode::haul, Mode::drive));
    EXPECT_THAT(kinds(o), ElementsAre("handover load", "handover unload"));
    EXPECT_EQ(o.stops[0].place, "yard \"West\"");
    EXPECT_THAT(o.stops[0].why, HasSubstr("yard, firm ground"));
    EXPECT_THAT(o.stops[0].why, HasSubstr("room to turn"));
    // Driven metres, hauled metres, and places along the whole option.
    EXPECT_EQ(*o.length_m, 4000);
    EXPECT_EQ(*o.hauled_m, 20000);
    EXPECT_EQ(*o.hard_m + *o.gravel_m + *o.earth_m, 4000);
    EXPECT_NEAR(o.stops[0].at_m, 2000, 0.1);
    EXPECT_NEAR(o.stops[1].at_m, 22000, 0.1);
    EXPECT_NEAR(o.geometry_at_m.back(), 24000, 0.1);
    EXPECT_TRUE(std::is_sorted(o.geometry_at_m.begin(), o.geometry_at_m.end()));
    EXPECT_NEAR(o.heat->profile.back().at_m, 24000, 0.1);
    ASSERT_EQ(o.legs[2].surface_runs.size(), 1u);
    EXPECT_NEAR(o.legs[2].surface_runs[0].from_m, 22000, 0.1);
    EXPECT_NEAR(o.legs[2].directions.back().at_m, 24000, 0.1);
    // Time is that of its parts.
    const Rates& r = p.in.rates;
    const double at_low_bed = (r.load_time + r.unload_time + r.prepare).seconds();
    EXPECT_NEAR(*o.duration_s,
                o.legs[0].duration_s + o.legs[1].duration_s + o.legs[2].duration_s + at_low_bed, 1);
    EXPECT_NEAR((*o.stops[1].leave - *o.stops[0].arrive).seconds(), at_low_bed + o.legs[1].duration_s, 1);
    // And so is the money: both legs driven, one bill, one more preparation.
    const OptionCost& c = o.cost;
    EXPECT_NEAR(*c.total,
                *c.labour + *c.fuel + *c.belts + *c.machine + *c.lubricant + *c.escort + *c.truck +
                    *c.permit + *c.other,
                0.01);
    EXPECT_GE(*c.truck, r.truck_minimum.units());
    EXPECT_NEAR(*c.permit, r.permit.units(), 0.001);
}

TEST(Mixed, LoadsWhereTheMoveBeginsWhenTheLowBedReachesIt) {
    Valley valley(false, true);
    const Planned p(valley);
    const Option o = p.option("mixed");
    ASSERT_TRUE(o.feasible);
    EXPECT_THAT(modes(o), ElementsAre(Mode::haul, Mode::drive));
    EXPECT_EQ(o.stops.front().place, "Barn");
    EXPECT_EQ(*o.hauled_m, 22000);
    EXPECT_EQ(*o.length_m, 2000);
    Valley other_way(true, false);
    const Option back = Planned(other_way).option("mixed");
    EXPECT_THAT(modes(back), ElementsAre(Mode::drive, Mode::haul));
    EXPECT_EQ(back.stops.back().place, "Field");
    EXPECT_EQ(back.stops.back().at_m, 24000);
}

GeoPoint north_of(GeoPoint p, double degrees) {
    return GeoPoint::from_degrees(p.lat() + degrees, p.lon());
}
const Flag* loading_flag(const Option& o, const std::string& part) {
    for (const Flag& f : o.flags)
        if (f.kind == "loading_place" && f.text.find(part) != std::string::npos)
            return &f;
    return nullptr;
}

// More than 100 m off a road it was driven from there, but "the low-bed cannot come nearer" for hauling.
TEST(Hauled, ItLoadsAtTheRoadThatTheMachineComesOutOn) {
    Valley valley(false, false);
    Planned p(valley);
    const Option at_the_road = p.option("haul");
    p.in.from.point = north_of(p.in.from.point, 0.003);
    p.in.to.point = north_of(p.in.to.point, 0.002);
    const Option o = p.option("haul");
    ASSERT_TRUE(o.feasible) << testing::PrintToString(o.why_not);
    EXPECT_NEAR(*o.hauled_m, *at_the_road.hauled_m, 1);
    EXPECT_NEAR(*o.cost.total, *at_the_road.cost.total, 0.01);
    const Flag *loads = loading_flag(o, "the low-bed loads at the road, 334 m from Barn"),
               *unloads = loading_flag(o, "the low-bed unloads at the road, 223 m from Field");
    ASSERT_TRUE(loads && unloads);
    EXPECT_EQ(loads->severity, Severity::check);
    EXPECT_EQ(*loads->point, valley.map.point(valley.nodes.front()));
    EXPECT_EQ(loading_flag(at_the_road, "at the road"), nullptr);
}

TEST(Hauled, ItIsSaidOfThatRoadHowNearTheLowBedComes) {
    Valley valley(true, false);
    Planned p(valley);
    p.in.from.point = north_of(p.in.from.point, 0.003);
    const Option o = p.option("haul");
    EXPECT_FALSE(o.feasible);
    EXPECT_THAT(o.why_not, ElementsAre(HasSubstr("cannot come nearer to the road that the machine comes out "
                                                 "on (334 m from Barn) than 2")));
    // The machine drives to a loading place all the same.
    EXPECT_THAT(modes(p.option("mixed")), ElementsAre(Mode::drive, Mode::haul));
}

TEST(Hauled, PartOfTheWayItIsLoadedAtTheRoadToo) {
    Valley valley(false, true);
    Planned p(valley);
    p.in.from.point = north_of(p.in.from.point, 0.003);
    const Option o = p.option("mixed");
    ASSERT_TRUE(o.feasible);
    EXPECT_THAT(modes(o), ElementsAre(Mode::haul, Mode::drive));
    EXPECT_THAT(o.stops.front().why, HasSubstr("it comes to the road 334 m from where the move begins"));
    EXPECT_EQ(o.stops.front().point, valley.map.point(valley.nodes.front()));
    EXPECT_TRUE(loading_flag(o, "the low-bed loads at the road"));
    EXPECT_FALSE(loading_flag(o, "the low-bed unloads at the road"));
}

// The low-bed was measured to an island that no road reaches, while the plan drove from another road.
TEST(Hauled, NotFromAnIslandBesideTheField) {
    Valley valley(false, false);
    const double near = 53.5020;
    const NodeId a = valley.map.node(near, 13.0 + 0.1 * km_lon),
                 b = valley.map.node(near, 13.0 + 0.2 * km_lon);
    valley.map.edge(a, b, {{"highway", "unclassified"}});
    Planned p(valley);
    p.in.from.point = GeoPoint::from_degrees(near, 13.0 + 0.15 * km_lon);
    const Option o = p.option("haul");
    ASSERT_TRUE(o.feasible) << testing::PrintToString(o.why_not);
    EXPECT_TRUE(loading_flag(o, "the low-bed loads at the road, 223 m from Barn"));
}

// "9.9 of 16 km are paved" stood beside an advice to drive 2 km.
TEST(Mixed, ItsReasonsSayWhichOptionAFigureIsOf) {
    Valley valley(true, true);
    valley.map.stop_place(valley.edges[1], 100000, StopPlaceKind::lay_by, "Half way");
    Planned p(valley);
    p.in.rates.truck_per_h = p.in.rates.truck_per_km = p.in.rates.truck_minimum = p.in.rates.permit = Money();
    p.in.rates.belt_set = Money::from_units(1e6);
    const Plan plan = make_plan(p.in);
    ASSERT_EQ(plan.verdict.mode, Mode::mixed);
    const auto& reasons = plan.verdict.reasons;
    EXPECT_THAT(reasons, Contains(HasSubstr(" of 4.0 km are paved as far as the map tells")));
    EXPECT_THAT(reasons, Contains(HasSubstr("The driven part: the belts lose about")));
    EXPECT_THAT(reasons, Contains(HasSubstr("Driving all the way (Least paved): 0.0 of 24 km are paved")));
    EXPECT_THAT(reasons, Contains(HasSubstr("Driving all the way (Least paved): the belts lose about")));
    for (const std::string& r : reasons)
        EXPECT_FALSE(r.starts_with("0.0 of") || r.starts_with("The belts")) << r;
}

// Exports spread the time evenly between two stops.
TEST(Mixed, TheClockHasThePaceOfEachPiece) {
    Valley valley(true, true);
    const Plan plan = make_plan(Planned(valley).in);
    for (const char* id : {"least-cost", "mixed"}) {
        const Option& o = *plan.find_option(id);
        ASSERT_GE(o.clock.size(), 2u);
        EXPECT_NEAR(o.clock.front()[0], 0, 0.1);
        EXPECT_NEAR(o.clock.back()[0], 24000, 0.1);
        EXPECT_NEAR(o.clock.back()[1], *o.duration_s, 1);
    }
    const Option& mixed = *plan.find_option("mixed");
    const auto at = [&](double m, bool last) {
        double s = -1;
        for (const auto& [at_m, after_s] : mixed.clock)
            if (std::abs(at_m - m) < 0.1 && (last || s < 0))
                s = after_s;
        return s;
    };
    // Driven to the ramp, hauled faster than driven.
    EXPECT_NEAR(at(2000, false), (*mixed.stops[0].arrive - *mixed.depart).seconds(), 1);
    EXPECT_NEAR(at(22000, false), (*mixed.stops[1].arrive - *mixed.depart).seconds(), 1);
    EXPECT_NEAR(at(22000, true), (*mixed.stops[1].leave - *mixed.depart).seconds(), 1);
    EXPECT_EQ(plan_from_json(plan_to_json(plan), "p").find_option("mixed")->clock.size(), mixed.clock.size());
}

TEST(Mixed, GoesThroughPlanJson) {
    Valley valley(true, true);
    const Plan plan = make_plan(Planned(valley).in);
    const Plan read = plan_from_json(plan_to_json(plan), "plan.json");
    const Option &wrote = *plan.find_option("mixed"), &there = *read.find_option("mixed");
    EXPECT_EQ(there.mode, Mode::mixed);
    EXPECT_EQ(kinds(there), kinds(wrote));
    EXPECT_EQ(modes(there), modes(wrote));
    EXPECT_EQ(*there.hauled_m, *wrote.hauled_m);
    EXPECT_EQ(to_json(plan_to_json(read)), to_json(plan_to_json(plan)));
}

// 15 km less what was driven before: the rest falls due on the second leg. The deck does not count, a lay-by
// half a kilometre before the ramp is no place for powder, the unloading place is.
TEST(Mixed, TheCountGoesOnOverTheHaulAndNoPowderGoesOnBeforeTheRamp) {
    Valley valley(true, true);
    valley.map.stop_place(valley.edges[0], 15000, StopPlaceKind::lay_by, "Near the ramp");
    Planned p(valley);
    p.in.belts.since_lube = Length::from_km(12);
    const Option o = p.option("mixed");
    ASSERT_TRUE(o.feasible) << testing::PrintToString(o.answer_needed);
    EXPECT_THAT(kinds(o), ElementsAre("handover load", "handover unload", "relube"));
    EXPECT_NEAR(o.stops[2].at_m, 22000, 0.1);
    EXPECT_NEAR(o.stops[2].since_relube_m, 14000, 0.1);
    EXPECT_EQ(o.stops[2].place, "rest area \"East\"");
    p.in.belts.since_lube = Length::from_km(10);
    EXPECT_THAT(kinds(p.option("mixed")), ElementsAre("handover load", "handover unload"));
    // Due on the first leg, and only that lay-by: somebody has to name another place.
    p.in.belts.since_lube = Length::from_km(13.2);
    const Option asks = p.option("mixed");
    EXPECT_FALSE(asks.feasible);
    EXPECT_THAT(asks.answer_needed, Contains(HasSubstr("No fit place to re-lube")));
}

TEST(Mixed, WashedBeltsArePowderedAfterUnloadingWhenTheyAreLoadedFirst) {
    Valley valley(false, true);
    Planned p(valley);
    p.in.belts.condition = BeltsNow::Condition::washed;
    const Option o = p.option("mixed");
    EXPECT_THAT(kinds(o), ElementsAre("handover load", "handover unload", "start"));
    EXPECT_THAT(o.stops[2].why, HasSubstr("no powder before the ramp"));
}

TEST(Mixed, DoesNotPayWhereTheLowBedReachesBothEnds) {
    Valley valley(false, false);
    const Planned p(valley);
    const Option o = p.option("mixed");
    EXPECT_FALSE(o.feasible);
    EXPECT_THAT(o.why_not, ElementsAre(HasSubstr("mixing does not pay: the low-bed reaches both ends")));
    EXPECT_FALSE(o.cost.total || o.length_m);
}

TEST(Mixed, WithoutALoadingPlaceItAsksForOneAndTakesTheOneNamed) {
    Valley bare(true, true);
    TinyMap map;
    std::vector<NodeId> n;
    for (const double km : {0.0, 2.0, 22.0, 24.0})
        n.push_back(map.node(53.5, 13.0 + km * km_lon));
    for (std::size_t i = 0; i < 3; ++i)
        map.edge(n[i], n[i + 1],
                 i == 1 ? TinyTags{{"highway", "unclassified"}}
                        : TinyTags{{"highway", "unclassified"}, {"maxweight", "22"}});
    const Region region = Region::from_data(map.build());
    Planned p(bare);
    p.in.region = &region;
    EXPECT_THAT(p.option("mixed").why_not, ElementsAre(HasSubstr("no loading place is known")));
    p.in.loading_places = {{"Old mill", interpolate(map.point(n[1]), map.point(n[2]), 0.1)}};
    EXPECT_THAT(p.option("mixed").why_not,
                ElementsAre(HasSubstr("none of the 1 loading places known joins")));
    p.in.loading_places.push_back({"Silo", interpolate(map.point(n[1]), map.point(n[2]), 0.9)});
    const Option o = p.option("mixed");
    ASSERT_TRUE(o.feasible);
    EXPECT_EQ(o.stops[0].place, "Old mill");
    EXPECT_EQ(o.stops[1].place, "Silo");
    EXPECT_THAT(o.stops[1].why, HasSubstr("named for this move"));
}

TEST(Mixed, TheLowBedComesWhenItCan) {
    Valley valley(true, true);
    Planned p(valley);
    const Option now = p.option("mixed");
    p.in.haul_from = p.in.depart + Duration::from_hours(2);
    const Option later = p.option("mixed");
    EXPECT_EQ(now.stops[0].arrive->unix_seconds + 0,
              (p.in.depart + Duration::from_seconds(now.legs[0].duration_s)).unix_seconds);
    EXPECT_NEAR((*later.stops[0].arrive - *p.in.haul_from).seconds(), 0, 1);
    EXPECT_NEAR(*later.duration_s, *now.duration_s, 1);
    const auto said = [](const Option& o) {
        return std::any_of(o.flags.begin(), o.flags.end(),
                           [](const Flag& f) { return f.kind == "haul_from"; });
    };
    EXPECT_TRUE(said(later));
    EXPECT_FALSE(said(now));
    // From door to door it begins no earlier either.
    Valley open(false, false);
    Planned q(open);
    q.in.rates.delay_per_h = Money::from_units(30);
    const double before = *q.option("haul").cost.total;
    q.in.haul_from = q.in.depart + Duration::from_hours(2);
    const Option haul = q.option("haul");
    EXPECT_EQ(haul.depart->unix_seconds, q.in.haul_from->unix_seconds);
    EXPECT_NEAR(*haul.cost.total, before + 60, 0.01);
    EXPECT_TRUE(said(haul));
}

// Which road is meant where the nearest is an island was said of driving alone.
TEST(Mixed, AnIslandBesideTheFieldIsSaid) {
    Valley valley(true, true);
    const double near = 53.5004;
    const NodeId a = valley.map.node(near, 13.0 + 23.8 * km_lon),
                 b = valley.map.node(near, 13.0 + 23.9 * km_lon);
    valley.map.edge(a, b, {{"highway", "unclassified"}});
    Planned p(valley);
    p.in.to.point = GeoPoint::from_degrees(near, 13.0 + 23.85 * km_lon);
    const Option o = p.option("mixed");
    ASSERT_TRUE(o.feasible);
    EXPECT_THAT(o.flags, Contains(::testing::Field(&Flag::text, HasSubstr("the road nearest to Field"))));
}

TEST(Mixed, SpeaksTheUnitsOfThePlan) {
    Valley valley(true, true);
    Planned p(valley);
    p.in.units = "imperial";
    const Option o = p.option("mixed");
    ASSERT_TRUE(o.feasible);
    EXPECT_THAT(o.stops[1].to_do, Contains(HasSubstr("12.4 mi more")));
    for (const PlanStop& s : o.stops)
        for (const std::string& text : s.to_do)
            EXPECT_EQ(text.find(" km"), std::string::npos) << text;
}

// Hauled from door to door the waiting was paid for, partly driven it was not.
TEST(Mixed, WaitingForTheLowBedIsPaidForWhereverItLoads) {
    Valley valley(true, true);
    Planned p(valley);
    p.in.rates.delay_per_h = Money::from_units(30);
    const Option now = p.option("mixed");
    p.in.haul_from = *now.stops[0].arrive + Duration::from_hours(2);
    EXPECT_NEAR(*p.option("mixed").cost.total, *now.cost.total + 60, 0.01);
}

// One road of 20 km that no lorry may use before noon.
struct MorningBan {
    MorningBan() {
        const NodeId a = map.node(53.5, 13.0), b = map.node(53.5, 13.0 + 20 * km_lon);
        TinyEdge e;
        e.tags = {{"highway", "unclassified"}, {"hgv:conditional", "no @ (06:00-12:00)"}};
        map.road(a, b, e);
        region.emplace(Region::from_data(map.build()));
        planned.in.region = &*region;
        planned.in.from.point = map.point(a);
        planned.in.to.point = map.point(b);
    }
    TinyMap map;
    std::optional<Region> region;
    Valley valley{false, false};
    Planned planned{valley};
};

// A road closed to the low-bed in the morning was read for the hour asked for, not for that at which the
// low-bed comes.
TEST(Mixed, ALowBedThatComesLaterMeetsTheRoadsOfItsHour) {
    MorningBan ban;
    Planned& p = ban.planned;
    p.in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
    EXPECT_FALSE(p.option("haul").feasible);
    p.in.haul_from = parse_time("2026-07-14T13:00:00Z", TimeZone());
    const Option later = p.option("haul");
    EXPECT_TRUE(later.feasible);
    // And the other way round: open when it was asked for, closed when the low-bed is there.
    p.in.depart = parse_time("2026-07-14T04:00:00Z", TimeZone());
    p.in.haul_from = parse_time("2026-07-14T07:00:00Z", TimeZone());
    EXPECT_FALSE(p.option("haul").feasible);
}

// Loading takes its time: the road is passed after it.
TEST(Mixed, AHauledRoadIsPassedAfterLoading) {
    MorningBan ban;
    Planned& p = ban.planned;
    p.in.depart = parse_time("2026-07-14T05:45:00Z", TimeZone());
    const Option haul = p.option("haul");
    EXPECT_TRUE(std::any_of(haul.flags.begin(), haul.flags.end(), [](const Flag& f) {
        return f.kind == "condition" && f.severity == Severity::stop;
    }));
}

// A low-bed that costs nothing was not sent the quickest way: by price all of them weighed nothing.
TEST(Mixed, ALowBedWithoutAPriceTakesTheQuickestEmptyRun) {
    // From the depot to the barn straight on and slowly, or round about and faster, in short pieces that
    // weigh nothing each.
    TinyMap map;
    TinyEdge e;
    const auto joined = [&](NodeId from, NodeId to, double metres, const char* highway = "unclassified") {
        e.tags = {{"highway", highway}};
        e.length_dm = static_cast<std::uint32_t>(metres * 10);
        map.road(from, to, e);
    };
    NodeId last = map.node(53.5, 13.0);
    const NodeId depot = last;
    for (int i = 1; i <= 40; ++i) {
        const NodeId next = map.node(53.5, 13.0 + i * 0.04 * km_lon);
        const NodeId aside = map.node(53.5005, 13.0 + (i - 0.5) * 0.04 * km_lon);
        joined(last, aside, 75);
        joined(aside, next, 75);
        joined(last, next, 40, "living_street");
        last = next;
    }
    const NodeId barn = last, field = map.node(53.5, 13.2);
    joined(barn, field, 10000);
    const Region region = Region::from_data(map.build());
    Valley valley(false, false);
    Planned p(valley);
    p.in.region = &region;
    p.in.from.point = map.point(barn);
    p.in.to.point = map.point(field);
    p.in.low_bed_base = NamedPoint{"Depot", map.point(depot)};
    p.in.rates.truck_per_h = p.in.rates.truck_per_km = p.in.rates.delay_per_h = Money();
    const Option haul = p.option("haul");
    ASSERT_TRUE(haul.feasible);
    EXPECT_NEAR(haul.figures->hauled.front().haul.to_pickup.metres(), 6000, 1);
}

TEST(Mixed, WhatElseMovesIsPaidFor) {
    Valley valley(true, true);
    Planned p(valley);
    const OptionCost alone = p.option("mixed").cost;
    AlsoMoves header;
    header.name = "header";
    header.how = AlsoMoves::How::own_trip;
    header.cost = Money::from_units(150);
    p.in.also_moves = {header};
    EXPECT_NEAR(*p.option("mixed").cost.total, *alone.total + 150, 0.01);
    header.cost.reset();  // the low-bed comes twice
    p.in.also_moves = {header};
    EXPECT_NEAR(*p.option("mixed").cost.truck, 2 * *alone.truck, 0.01);
    header.how = AlsoMoves::How::stays;
    p.in.also_moves = {header};
    EXPECT_NEAR(*p.option("mixed").cost.total, *alone.total, 0.01);
    // On the same deck: longer to load, if it fits at all.
    header.how = AlsoMoves::How::same_deck;
    header.mass = Mass::from_tonnes(1);
    header.length = Length::from_metres(0.5);
    header.load_time = Duration::from_minutes(20);
    p.in.also_moves = {header};
    const Option together = p.option("mixed");
    EXPECT_GT(*together.cost.labour, *alone.labour + 2 * 28 / 3.0 - 0.01);
    EXPECT_NEAR(together.stops[0].wait_s, (p.in.rates.load_time + header.load_time).seconds(), 1);
    header.length = Length::from_metres(6);
    p.in.also_moves = {header};
    EXPECT_THAT(p.option("mixed").why_not, Contains(HasSubstr("give it its own trip")));
    header.length = Length();
    header.mass = Mass::from_tonnes(40);
    p.in.also_moves = {header};
    EXPECT_THAT(p.option("mixed").why_not, Contains(HasSubstr("the low-bed carries 30.0 t")));
}

// Worked out in full, no pair of places costs less than the one that is taken: on random maps, the move with
// four places named against the same move with each two of them alone.
TEST(Mixed, NoPairInFullIsCheaper) {
    int compared = 0;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        const Region region = Region::from_data(random_region_data(seed, 5, 6));
        TestRandom random(seed * 13);
        const auto somewhere = [&] {
            return region.view().node_point(
                NodeId{random.below(static_cast<std::uint32_t>(region.view().node_count()))});
        };
        Valley unused(false, false);
        Planned p(unused);
        p.in.region = &region;
        p.in.from.point = somewhere();
        p.in.to.point = somewhere();
        if (distance(p.in.from.point, p.in.to.point) < Length::from_metres(10))
            continue;
        p.in.drive = false;
        p.in.low_bed.length = Length::from_metres(16.5);
        p.in.rates.truck_minimum = Money::from_units(random.chance(50) ? 0 : 230);
        // Too heavy for doors: only what is named can be used.
        std::vector<NamedPoint> places;
        for (int i = 0; i < 4; ++i)
            places.push_back({std::string(1, static_cast<char>(0x41 + i)), somewhere()});
        const auto cost_with = [&](std::vector<NamedPoint> named) -> std::optional<double> {
            p.in.loading_places = std::move(named);
            try {
                const Option o = p.option("mixed");
                return o.feasible && o.exact ? o.cost.total : std::nullopt;
            } catch (const Error& e) {
                EXPECT_EQ(e.kind(), ErrorKind::not_found) << e.what();
                return std::nullopt;
            }
        };
        const auto all = cost_with(places);
        if (!all)
            continue;
        double best = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < places.size(); ++i)
            for (std::size_t j = i + 1; j < places.size(); ++j)
                if (const auto c = cost_with({places[i], places[j]}))
                    best = std::min(best, *c);
        EXPECT_NEAR(*all, best, 0.005) << "seed " << seed;
        ++compared;
    }
    EXPECT_GT(compared, 8);
}

}  // namespace
}  // namespace loamway
