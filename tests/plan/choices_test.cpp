// SPDX-License-Identifier: Apache-2.0
// The choices between length and paved length in a plan: both ends of the front, figures that the planned
// option keeps, choices that answer heat, and what is said when there is no such choice.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/graph/snap.h"
#include "loamway/plan/inputs.h"
#include "loamway/search/route.h"
#include "support/random_map.h"

namespace loamway {
namespace {

using ::testing::HasSubstr;

Machine medium() {
    const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
    return read_machine(parse_toml(read_text_file(file), file), file);
}

PlanInputs inputs(const Region& region, GeoPoint from, GeoPoint to) {
    PlanInputs in;
    in.region = &region;
    in.from = {"Barn", from};
    in.to = {"Field", to};
    in.machine = medium();
    in.depart = parse_time("2026-07-14T09:00:00Z", TimeZone());
    return in;
}

const Option* option_called(const Plan& plan, const std::string& id) {
    for (const Option& o : plan.options)
        if (o.id == id || std::find(o.also.begin(), o.also.end(), id) != o.also.end())
            return &o;
    return nullptr;
}

std::string error_of(const PlanInputs& in, ErrorKind kind) {
    try {
        (void)make_plan(in);
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), kind);
        return e.what();
    }
    return "no error";
}

// From a barn to a field: all paved and short, a third paved, all gravel and long. A lay-by every 5 km.
struct ThreeWays {
    ThreeWays() {
        const NodeId a = map.node(53.50, 13.00), b = map.node(53.50, 13.40);
        barn = map.point(a);
        field = map.point(b);
        way(a, b, 53.50, {{6, hard}});
        way(a, b, 53.53, {{2, hard}, {5, gravel}});
        way(a, b, 53.56, {{9, gravel}});
        region = std::make_unique<Region>(Region::from_data(map.build()));
    }
    PlanInputs plain() const {
        PlanInputs in = inputs(*region, barn, field);
        in.haul = false;
        return in;
    }

    TinyMap map;
    GeoPoint barn, field;
    std::unique_ptr<Region> region;

private:
    static constexpr SurfaceOdds hard{200, 0, 0}, gravel{0, 200, 0};
    // Pieces of 5 km each, one after another.
    void way(NodeId a, NodeId b, double lat, const std::vector<std::pair<int, SurfaceOdds>>& parts) {
        int count = 0;
        for (const auto& [n, odds] : parts)
            count += n;
        NodeId last = a;
        int done = 0;
        for (const auto& [n, odds] : parts)
            for (int i = 0; i < n; ++i) {
                const NodeId next = ++done == count ? b : map.node(lat, 13.0 + 0.4 * done / count);
                TinyEdge e;
                e.tags = {{"highway", "unclassified"}};
                e.odds = odds;
                e.length_dm = 50000;
                map.stop_place(map.road(last, next, e), 25000, StopPlaceKind::lay_by);
                last = next;
            }
    }
};

TEST(Choices, AreListedWithTheOptionsThatDriveThem) {
    const ThreeWays ways;
    const Plan plan = make_plan(ways.plain());
    ASSERT_TRUE(plan.front && plan.front_exact);
    EXPECT_TRUE(*plan.front_exact);
    ASSERT_EQ(plan.front->size(), 3u);
    const double lengths[] = {45000, 35000, 30000}, paved[] = {0, 10000, 30000};
    for (std::size_t i = 0; i < 3; ++i) {
        const FrontPoint& p = (*plan.front)[i];
        EXPECT_EQ(p.k, static_cast<int>(i) + 1);
        EXPECT_EQ(p.length_m, lengths[i]);
        EXPECT_EQ(p.hard_m, paved[i]);
        EXPECT_TRUE(*p.stops_ok);
        ASSERT_TRUE(p.cost);
    }
    EXPECT_EQ((*plan.front)[0].option, "least-hard");
    EXPECT_EQ(*(*plan.front)[0].cost, *option_called(plan, "front-1")->cost.total);
    EXPECT_EQ(option_called(plan, "front-1")->id, "least-hard");
}

TEST(Choices, AChoiceAskedForBecomesAnOption) {
    const ThreeWays ways;
    PlanInputs in = ways.plain();
    in.conditions.air = Temperature::from_celsius(-10);  // heat is no matter
    ASSERT_EQ(option_called(make_plan(in), "front-2"), nullptr);
    in.front_point = 2;
    const Plan plan = make_plan(in);
    const Option* o = option_called(plan, "front-2");
    ASSERT_NE(o, nullptr);
    EXPECT_EQ(o->id, "front-2");
    EXPECT_EQ(*o->length_m, 35000);
    EXPECT_EQ(*o->hard_m, 10000);
    EXPECT_EQ(*o->cost.total, *(*plan.front)[1].cost);
    EXPECT_FALSE(o->legs.empty());
    EXPECT_FALSE(o->geometry.empty());
    EXPECT_EQ((*plan.front)[1].option, "front-2");
    EXPECT_EQ(&plan.option_for_output("front-2"), o);
    // One that is an option already is not planned twice.
    in.front_point = 1;
    EXPECT_EQ(make_plan(in).options.size(), plan.options.size() - 1);
}

TEST(Choices, OneThatIsNotThereIsNamedWithTheirCount) {
    const ThreeWays ways;
    PlanInputs in = ways.plain();
    in.front_point = 4;
    EXPECT_THAT(error_of(in, ErrorKind::not_found), HasSubstr("no choice 4: this move has 3"));
    in.drive = false;
    in.haul = true;
    EXPECT_THAT(error_of(in, ErrorKind::input), HasSubstr("driving is not looked at"));
}

TEST(Choices, ASearchThatRunsOutOfRoomSaysSo) {
    const ThreeWays ways;
    PlanInputs in = ways.plain();
    in.front_labels = 1;
    const Plan plan = make_plan(in);
    EXPECT_FALSE(plan.front);
    ASSERT_TRUE(plan.front_exact);
    EXPECT_FALSE(*plan.front_exact);
    EXPECT_FALSE(plan.verdict.option.empty());
    in.front_point = 1;
    EXPECT_THAT(error_of(in, ErrorKind::limit), HasSubstr("ran out of room"));
    in.front_point.reset();
    in.front = false;
    EXPECT_FALSE(make_plan(in).front_exact);
}

TEST(Choices, OnAHotDayMoreGravelIsTheAnswerWhereItIsCheaperThanSlower) {
    const ThreeWays ways;
    PlanInputs in = ways.plain();
    in.conditions.sun = 1;
    in.conditions.sun_assumed = in.conditions.air_assumed = false;
    in.belts.hours = 20;  // their limits are 15 K lower
    // On cool days the short way is cheapest, on the hottest all must crawl; somewhere between lies the day.
    Plan hot;
    for (double air = 24; air <= 50 && hot.verdict.option != "front-2"; air += 2) {
        in.conditions.air = Temperature::from_celsius(air);
        hot = make_plan(in);
    }
    ASSERT_EQ(hot.verdict.option, "front-2");
    for (const Option& o : hot.options)
        if (o.id != "front-2" && o.feasible) {
            EXPECT_GT(*o.cost.total, *hot.find_option("front-2")->cost.total) << o.id;
        }
    EXPECT_EQ(*hot.heat_search.find("answer")->as_string(), "other choice");
    EXPECT_THAT(hot.verdict.reasons, ::testing::Contains(HasSubstr("more gravel instead of slower")));
    EXPECT_THAT(hot.verdict.reasons, ::testing::Contains(HasSubstr("The softest way (Least paved)")));
    EXPECT_THAT(hot.verdict.reasons, ::testing::Not(::testing::Contains(HasSubstr("softest way (front"))));
    in.conditions.air = Temperature::from_celsius(-10);
    in.conditions.sun = 0;
    in.belts.hours.reset();
    const Plan cold = make_plan(in);
    EXPECT_EQ(cold.verdict.option, "least-cost");
    EXPECT_EQ(*cold.heat_search.find("answer")->as_string(), "none");
}

// What the record says of the manner taken is what the option says, and no manner tried that holds is
// cheaper.
TEST(Choices, TheHeatRecordIsCompleteAndBoundsWhatWasTaken) {
    const ThreeWays ways;
    PlanInputs in = ways.plain();
    in.conditions.air = Temperature::from_celsius(36);
    const Plan plan = make_plan(in);
    int cooling_tried = 0;
    for (const char* list : {"options", "front"})
        for (const Value& record : *plan.heat_search.find(list)->as_array()) {
            const double bound = record.find("lower_bound")->number();
            double taken = -1, cheapest = 1e9;
            for (const Value& t : *record.find("tried")->as_array()) {
                const double cost = t.find("cost")->number();
                EXPECT_GE(cost, bound);
                cooling_tried += t.find("cooling_stop_m")->is_null() ? 0 : 1;
                if (*t.find("holds")->as_bool())
                    cheapest = std::min(cheapest, cost);
                if (*t.find("taken")->as_bool())
                    taken = cost;
            }
            EXPECT_EQ(taken, cheapest);
            EXPECT_NEAR(record.find("above_bound_at_most")->number(), taken - bound, 0.011);
        }
    EXPECT_GT(cooling_tried, 0);
}

// Where slowing down is dear, standing once more is the better answer; the stop is at a place, powders
// nothing and is not counted as a lubrication.
TEST(Choices, OneMoreStopCoolsWhereDrivingSlowlyIsDear) {
    const ThreeWays ways;
    PlanInputs in = ways.plain();
    in.conditions.air = Temperature::from_celsius(34);
    in.detour_cap = 0;
    const Plan plan = make_plan(in);
    const Option* o = plan.find_option(plan.verdict.option);
    ASSERT_NE(o, nullptr);
    const auto cooling =
        std::find_if(o->stops.begin(), o->stops.end(), [](const PlanStop& s) { return s.kind == "cooling"; });
    ASSERT_NE(cooling, o->stops.end());
    EXPECT_EQ(cooling->place, "lay-by");
    EXPECT_GE(cooling->wait_s, 600);
    // Whoever stands there asks why the stops before or after it were not made longer instead.
    EXPECT_THAT(cooling->why, ::testing::StartsWith("for the bars to cool; without this stop "));
    EXPECT_THAT(*plan.heat_search.find("answer")->as_string(), HasSubstr("cooling stop"));
    const auto powdered =
        std::count_if(o->stops.begin(), o->stops.end(), [](const PlanStop& s) { return s.kind == "relube"; });
    EXPECT_DOUBLE_EQ(*o->cost.lubricant, static_cast<double>(powdered) * in.rates.lubricant_per_stop.units());
    EXPECT_LE(*o->heat->bar_high_c, *o->heat->limit_c);
    for (std::size_t i = 1; i < o->stops.size(); ++i)
        EXPECT_LE(o->stops[i].since_relube_m, *o->relube_interval_m);
}

class RandomChoices : public ::testing::TestWithParam<int> {};

// Random maps have stop places nowhere, so that nothing but the front decides.
TEST_P(RandomChoices, BothEndsAreThereAndEveryChoiceCanBePlanned) {
    const Region region = random_region(static_cast<std::uint64_t>(GetParam()), 8, 8);
    const RegionView& view = region.view();
    PlanInputs in = inputs(region, view.node_point(NodeId{std::size_t{0}}),
                           view.node_point(NodeId{view.node_count() - 1}));
    in.snap_limit = Length::from_km(5);
    in.haul = false;
    const Plan plan = make_plan(in);
    for (const Option& o : plan.options)
        if (o.length_m) {
            EXPECT_LE(*o.hard_low_m, *o.hard_m);
            EXPECT_LE(*o.hard_m, *o.hard_high_m);
        }
    ASSERT_TRUE(plan.front);
    if (plan.front->empty())
        return;  // no way at all
    double shortest = 1e12, softest = 1e12;
    for (const Option& o : plan.options) {
        shortest = std::min(shortest, *o.length_m);
        softest = std::min(softest, *o.hard_m);
    }
    EXPECT_EQ(plan.front->front().hard_m, softest);
    EXPECT_LE(plan.front->back().length_m, shortest);
    EXPECT_LE(plan.front->front().length_m, plan.front->back().length_m * (1 + in.detour_cap) + 1);
    for (std::size_t i = 0; i < plan.front->size(); ++i) {
        const FrontPoint& p = (*plan.front)[i];
        if (i > 0) {
            EXPECT_GE(p.hard_m, (*plan.front)[i - 1].hard_m);
            EXPECT_LE(p.length_m, (*plan.front)[i - 1].length_m);
        }
        in.front_point = p.k;
        const Plan full = make_plan(in);
        const Option* o = option_called(full, "front-" + std::to_string(p.k));
        ASSERT_NE(o, nullptr);
        EXPECT_EQ(*o->length_m, p.length_m);
        EXPECT_EQ(*o->hard_m, p.hard_m);
        EXPECT_EQ(o->feasible, p.cost.has_value());
        ASSERT_EQ(full.front->size(), plan.front->size());
        EXPECT_EQ((*full.front)[i].length_m, p.length_m);
    }
}
INSTANTIATE_TEST_SUITE_P(Seeds, RandomChoices, ::testing::Range(1, 25));

}  // namespace
}  // namespace loamway
