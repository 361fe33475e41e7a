// SPDX-License-Identifier: Apache-2.0
// One move at several hours: the window, the hour taken, daylight for wide machines, the cooler hour.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <memory>

#include "loamway/base/file.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

// A paved road of 30 km with lay-bys, in a zone with a summer time.
struct PavedRoad {
    PavedRoad() {
        NodeId last = map.node(53.5, 13.0);
        in.from = {"Barn", map.point(last)};
        for (int i = 1; i <= 6; ++i) {
            const NodeId next = map.node(53.5, 13.0 + 0.075 * i);
            TinyEdge e;
            e.tags = {{"highway", "unclassified"}};
            e.odds = {200, 0, 0};
            e.length_dm = 50000;
            map.stop_place(map.road(last, next, e), 25000, StopPlaceKind::lay_by);
            last = next;
        }
        in.to = {"Field", map.point(last)};
        RegionData data = map.build();
        data.meta.time_zone = "Europe/Berlin";
        region = std::make_unique<Region>(Region::from_data(std::move(data)));
        in.region = region.get();
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.haul = false;
        in.conditions.air_range = AirRange{Temperature::from_celsius(8), Temperature::from_celsius(38)};
        in.conditions.air_assumed = false;
        in.conditions.cloud = 0;
        in.depart = at("2026-07-14T14:00");
    }
    [[nodiscard]] static Instant at(const char* text) { return parse_time(text, TimeZone("Europe/Berlin")); }

    TinyMap map;
    std::unique_ptr<Region> region;
    PlanInputs in;
};

std::vector<std::string> clocks(const Plan& plan) {
    std::vector<std::string> out;
    for (const Departure& d : *plan.departures)
        out.push_back(format_rfc3339(d.depart, TimeZone("Europe/Berlin")).substr(5, 11));
    return out;
}
const Departure* taken(const Plan& plan) {
    const Departure* out = nullptr;
    for (const Departure& d : *plan.departures)
        if (d.taken) {
            EXPECT_EQ(out, nullptr);
            out = &d;
        }
    return out;
}

TEST(Departures, AreNotThereWhenNobodyAsked) {
    const PavedRoad road;
    EXPECT_FALSE(make_plan(road.in).departures);
}

TEST(Departures, TheCheapestHourIsPlannedWhenOnlyTheDayIsSaid) {
    PavedRoad road;
    road.in.depart = PavedRoad::at("2026-07-14T00:00");
    road.in.depart_said = DepartSaid::day;
    road.in.when = WhenWindow{5 * 60, 21 * 60};
    const Plan plan = make_plan(road.in);
    ASSERT_EQ(plan.departures->size(), 17u);
    EXPECT_EQ(clocks(plan).front(), "07-14T05:00");
    EXPECT_EQ(clocks(plan).back(), "07-14T21:00");
    const Departure* best = taken(plan);
    ASSERT_NE(best, nullptr);
    for (const Departure& d : *plan.departures) {
        if (d.can_be_done) {
            EXPECT_LE(*best->cost, *d.cost + 0.005);
        }
    }
    const Option& o = *plan.find_option(plan.verdict.option);
    EXPECT_EQ(*o.depart, best->depart);
    EXPECT_EQ(*o.cost.total, *best->cost);
    EXPECT_EQ(*o.heat->bar_high_c, *best->bar_high_c);
    EXPECT_EQ(*o.arrive, *best->arrive);
    EXPECT_THAT(plan.verdict.reasons, Contains(HasSubstr("Best hour: of 17 departures from 05:00 to 21:00")));
}

// What stands in a row is what a plan for that hour alone says.
TEST(Departures, EachRowIsThePlanOfItsHour) {
    PavedRoad road;
    road.in.front = false;
    road.in.when = WhenWindow{5 * 60, 16 * 60};
    const Plan plan = make_plan(road.in);
    EXPECT_EQ(taken(plan)->depart, road.in.depart);
    PlanInputs alone = road.in;
    alone.when.reset();
    for (const Departure& d : *plan.departures) {
        alone.depart = d.depart;
        const Plan single = make_plan(alone);
        ASSERT_EQ(single.verdict.option, d.option);
        EXPECT_EQ(*single.find_option(d.option)->cost.total, *d.cost);
        EXPECT_EQ(*single.find_option(d.option)->heat->bar_peak_c, *d.bar_peak_c);
    }
}

TEST(Departures, AnHourSaidIsKeptAndStandsAmongTheOthers) {
    PavedRoad road;
    road.in.depart = PavedRoad::at("2026-07-14T14:20");
    road.in.when = WhenWindow{13 * 60 + 30, 15 * 60};
    const Plan plan = make_plan(road.in);
    EXPECT_EQ(clocks(plan), (std::vector<std::string>{"07-14T14:00", "07-14T14:20", "07-14T15:00"}));
    EXPECT_EQ(taken(plan)->depart, road.in.depart);
}

TEST(Departures, AWindowMayCrossMidnight) {
    PavedRoad road;
    road.in.when = WhenWindow{22 * 60, 2 * 60};
    road.in.depart = PavedRoad::at("2026-07-14T00:00");
    road.in.depart_said = DepartSaid::day;
    const std::vector<std::string> wanted{"07-14T22:00", "07-14T23:00", "07-15T00:00", "07-15T01:00",
                                          "07-15T02:00"};
    EXPECT_EQ(clocks(make_plan(road.in)), wanted);
    // Asked at one in the morning, it is the night that has begun the day before.
    road.in.depart = PavedRoad::at("2026-07-15T01:00");
    road.in.depart_said = DepartSaid::hour;
    EXPECT_EQ(clocks(make_plan(road.in)), wanted);
    // Without any departure what has passed is left out.
    road.in.depart_said = DepartSaid::nothing;
    EXPECT_EQ(clocks(make_plan(road.in)), (std::vector<std::string>{"07-15T01:00", "07-15T02:00"}));
}

TEST(Departures, WhenTheWindowHasPassedItIsTheNextDays) {
    PavedRoad road;
    road.in.when = WhenWindow{5 * 60, 6 * 60};
    road.in.depart_said = DepartSaid::nothing;
    EXPECT_EQ(clocks(make_plan(road.in)), (std::vector<std::string>{"07-15T05:00", "07-15T06:00"}));
}

// In the night of 29 March 2026 the clock goes from two to three.
TEST(Departures, AnHourThatTheClockLeavesOutIsNotPlannedTwice) {
    PavedRoad road;
    road.in.when = WhenWindow{1 * 60, 4 * 60};
    road.in.depart = PavedRoad::at("2026-03-29T00:00");
    road.in.depart_said = DepartSaid::day;
    EXPECT_EQ(clocks(make_plan(road.in)),
              (std::vector<std::string>{"03-29T01:00", "03-29T03:00", "03-29T04:00"}));
}

TEST(Departures, AWideMachineIsNotSentIntoTheDark) {
    PavedRoad road;
    road.in.recipe.daylight_from_width = Length::from_metres(2);
    road.in.when = WhenWindow{1 * 60, 7 * 60};
    road.in.depart = PavedRoad::at("2026-07-14T00:00");
    road.in.depart_said = DepartSaid::day;
    const Plan plan = make_plan(road.in);
    int dark = 0;
    for (const Departure& d : *plan.departures) {
        ASSERT_TRUE(d.in_daylight);
        EXPECT_EQ(d.within_permitted_hours, *d.in_daylight);
        if (!*d.in_daylight) {
            ++dark;
            EXPECT_FALSE(d.taken);
            EXPECT_THAT(d.why_not, Contains(HasSubstr("expects daylight")));
        }
    }
    EXPECT_GT(dark, 0);
    EXPECT_TRUE(taken(plan)->within_permitted_hours);
    road.in.recipe.daylight_from_width = Length::from_metres(4);
    const Plan narrow = make_plan(road.in);
    for (const Departure& d : *narrow.departures)
        EXPECT_TRUE(d.within_permitted_hours);
}

TEST(Departures, AWideMachineKeepsToTheRecipesHours) {
    PavedRoad road;
    road.in.recipe.permit_from_width = Length::from_metres(2);
    road.in.recipe.wide_move_hours = DayHours{9, 15};
    road.in.when = WhenWindow{6 * 60, 18 * 60};
    road.in.depart = PavedRoad::at("2026-07-14T00:00");
    road.in.depart_said = DepartSaid::day;
    const Plan plan = make_plan(road.in);
    int outside = 0;
    for (const Departure& d : *plan.departures) {
        const bool within = d.depart >= PavedRoad::at("2026-07-14T09:00") &&
                            d.arrive.value_or(d.depart) <= PavedRoad::at("2026-07-14T15:00");
        EXPECT_EQ(d.within_permitted_hours, within);
        if (!within) {
            ++outside;
            EXPECT_FALSE(d.taken);
            EXPECT_THAT(d.why_not, Contains(HasSubstr("lets moves as wide as this go from")));
        }
    }
    EXPECT_GT(outside, 0);
    EXPECT_TRUE(taken(plan)->within_permitted_hours);
}

// An afternoon hotter than any, so that nothing helps whatever the models' figures are; the night is cool.
TEST(Departures, ACoolerHourIsNamedWhereHeatStandsAgainstEveryWay) {
    PavedRoad road;
    road.in.conditions.air_range = AirRange{Temperature::from_celsius(2), Temperature::from_celsius(90)};
    road.in.belts.hours = 20;
    road.in.depart = PavedRoad::at("2026-07-14T15:00");
    const Plan hot = make_plan(road.in);
    ASSERT_TRUE(hot.verdict.option.empty());
    EXPECT_EQ(*hot.heat_search.find("answer")->as_string(), "no answer");
    EXPECT_THAT(hot.verdict.would_flip, Contains(HasSubstr("another hour: leaving at ")));
    EXPECT_THAT(hot.verdict.would_flip, Contains(HasSubstr("hauling: it was not looked at")));
    // In weather that never changes there is no such hour.
    road.in.conditions.air_range.reset();
    road.in.conditions.air = Temperature::from_celsius(90);
    road.in.conditions.sun_assumed = false;
    road.in.conditions.sun = 1;
    const Plan constant = make_plan(road.in);
    ASSERT_TRUE(constant.verdict.option.empty());
    EXPECT_THAT(constant.verdict.would_flip, ::testing::Not(Contains(HasSubstr("another hour"))));
}

// With the same air at every hour costs hardly differ: an hour in the dark that saves less than a hundredth
// is left.
TEST(Departures, DaylightGoesBeforeAPennySaved) {
    PavedRoad road;
    road.in.conditions.air_range = AirRange{Temperature::from_celsius(18), Temperature::from_celsius(20)};
    road.in.when = WhenWindow{0, 23 * 60};
    road.in.depart_said = DepartSaid::day;
    const Plan plan = make_plan(road.in);
    const Departure* cheapest = nullptr;
    for (const Departure& d : *plan.departures)
        if (d.can_be_done && (cheapest == nullptr || *d.cost < *cheapest->cost - 0.005))
            cheapest = &d;
    ASSERT_NE(cheapest, nullptr);
    ASSERT_FALSE(*cheapest->in_daylight) << "nights are cooler";
    const Departure* left = taken(plan);
    ASSERT_NE(left, nullptr);
    EXPECT_TRUE(*left->in_daylight);
    EXPECT_LE(*left->cost, 1.01 * *cheapest->cost);
    EXPECT_THAT(plan.verdict.reasons, Contains(HasSubstr(" and drives in daylight: ")));
}

// Who waits is told what is done, never less than before; who does not wait any longer gets nothing.
TEST(Watch, TellsEveryStepAndStopsWhenToldTo) {
    PavedRoad road;
    road.in.return_trip = true;
    road.in.when = WhenWindow{6 * 60, 10 * 60};
    road.in.depart_said = DepartSaid::day;
    std::vector<double> shares;
    std::vector<std::string> steps;
    road.in.watch = [&](std::string_view step, double share) {
        steps.emplace_back(step);
        shares.push_back(share);
        return true;
    };
    const Plan watched = make_plan(road.in);
    EXPECT_TRUE(std::is_sorted(shares.begin(), shares.end()));
    EXPECT_GE(shares.front(), 0.0);
    EXPECT_LE(shares.back(), 1.0);
    EXPECT_THAT(steps, ::testing::IsSupersetOf({"hours", "roads", "driving", "choices", "costs"}));

    const std::size_t calls = steps.size();
    for (const std::size_t stop_at : {std::size_t{0}, calls / 2, calls - 1}) {
        std::size_t n = 0;
        road.in.watch = [&](std::string_view, double) { return n++ < stop_at; };
        EXPECT_THROW((void)make_plan(road.in), Stopped) << "at call " << stop_at;
    }
    road.in.watch = nullptr;
    EXPECT_EQ(to_json(plan_to_json(make_plan(road.in))), to_json(plan_to_json(watched)));
}

}  // namespace
}  // namespace loamway
