// SPDX-License-Identifier: Apache-2.0
// How sure the advice is, on one long road that a low-bed can use too.
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "loamway/base/file.h"
#include "loamway/costs/option_figures.h"
#include "loamway/plan/belts_left.h"
#include "loamway/plan/inputs.h"
#include "support/tiny_region.h"

namespace loamway {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::SizeIs;

// A paved road west to east in pieces of 5 km with a lay-by in the middle of each.
class Road {
public:
    explicit Road(int pieces) {
        const double step = 5000.0 / 66200.0;
        std::vector<NodeId> nodes;
        for (int i = 0; i <= pieces; ++i)
            nodes.push_back(m_map.node(53.5, 13.0 + i * step));
        for (std::size_t i = 0; i + 1 < nodes.size(); ++i) {
            TinyEdge e;
            e.tags = {{"highway", "tertiary"}};
            e.odds = {200, 0, 0};
            e.length_dm = 50000;
            const EdgeId edge = m_map.road(nodes[i], nodes[i + 1], e);
            m_map.stop_place(edge, 25000, StopPlaceKind::lay_by, "Long lay-by");
        }
        m_from = m_map.point(nodes.front());
        m_to = m_map.point(nodes.back());
        m_region = std::make_unique<Region>(Region::from_data(m_map.build()));
    }
    [[nodiscard]] PlanInputs inputs() const {
        PlanInputs in;
        in.region = m_region.get();
        in.from = {"Barn", m_from};
        in.to = {"Field", m_to};
        const std::string file = std::string(LOAMWAY_SOURCE_DIR) + "/examples/profiles/medium.toml";
        in.machine = read_machine(parse_toml(read_text_file(file), file), file);
        in.depart = parse_time("2026-04-14T09:00:00Z", TimeZone());
        in.conditions.air = Temperature::from_celsius(10);
        return in;
    }

private:
    TinyMap m_map;
    GeoPoint m_from, m_to;
    std::unique_ptr<Region> m_region;
};

// A price of the permit that makes hauling as dear as driving, by the means of the trials.
double even_permit(const Road& road) {
    PlanInputs in = road.inputs();
    in.rates.permit = Money::from_units(0);
    const Plan plan = make_plan(in);
    double drive = 1e9, haul = 0;
    for (const Option& o : plan.options)
        (o.mode == Mode::haul ? haul : drive) =
            o.mode == Mode::haul ? *o.cost.mean : std::min(drive, *o.cost.mean);
    const double mean_factor = (0.5 + 1 + 2.0) / 3;
    return (drive - haul) / mean_factor;
}

const Option& option(const Plan& plan, Mode mode) {
    for (const Option& o : plan.options)
        if (o.mode == mode)
            return o;
    throw std::runtime_error("no such option");
}

TEST(PlanUncertainty, TheSameSeedGivesTheSamePlanAndAnotherDoesNot) {
    const Road road(8);
    PlanInputs in = road.inputs();
    const std::string first = to_json(plan_to_json(make_plan(in)));
    EXPECT_EQ(to_json(plan_to_json(make_plan(in))), first);
    in.seed = 2;
    EXPECT_NE(to_json(plan_to_json(make_plan(in))), first);
}

TEST(PlanUncertainty, ShortMovesAreDrivenWithoutDoubt) {
    const Road road(3);
    const Plan plan = make_plan(road.inputs());
    ASSERT_TRUE(plan.uncertainty);
    EXPECT_EQ(plan.uncertainty->trials, 1000);
    EXPECT_EQ(plan.verdict.mode, Mode::drive);
    EXPECT_DOUBLE_EQ(plan.verdict.probability_cheapest.value(), 1);
    EXPECT_FALSE(plan.verdict.too_close.value());
    EXPECT_DOUBLE_EQ(plan.uncertainty->comparison->cost_of_being_wrong, 0);
    EXPECT_THAT(plan.verdict.reasons, Contains(HasSubstr("More than 99 in 100 that driving is cheapest")));
}

TEST(PlanUncertainty, BandsHoldTheMiddleEightyInAHundred) {
    const Road road(8);
    const Plan plan = make_plan(road.inputs());
    for (const OptionTrials& t : plan.uncertainty->options) {
        const Option& o = *plan.find_option(t.option);
        EXPECT_DOUBLE_EQ(*o.cost.mean, t.mean);
        EXPECT_DOUBLE_EQ(*o.cost.low, std::min(t.p10, *o.cost.total));
        EXPECT_DOUBLE_EQ(*o.cost.high, std::max(t.p90, *o.cost.total));
        EXPECT_LT(t.p10, t.p50);
        EXPECT_LT(t.p50, t.p90);
        EXPECT_THAT(o.cost.low_high_basis, HasSubstr("10 and 90 in 100 of 1000 trials"));
        EXPECT_NEAR(option_parts(*o.figures, road.inputs().rates).total().units(), *o.cost.total, 1e-9);
    }
}

TEST(PlanUncertainty, TooCloseToCallIsSaidWithWhatItSaves) {
    const Road road(26);
    PlanInputs in = road.inputs();
    in.rates.permit = Money::from_units(even_permit(road));
    const Plan plan = make_plan(in);
    EXPECT_TRUE(plan.verdict.too_close.value());
    EXPECT_GT(*plan.verdict.probability_cheapest, 0.35);
    EXPECT_LT(*plan.verdict.probability_cheapest, 0.65);
    EXPECT_THAT(plan.verdict.sentence, HasSubstr("though it is too close to call"));
    EXPECT_THAT(plan.verdict.reasons, Contains(HasSubstr("mm of bar")));
    const CostComparison& c = *plan.uncertainty->comparison;
    EXPECT_GT(c.cost_of_being_wrong, 1);
    EXPECT_NEAR(c.cost_of_being_wrong - c.next_regret, c.mean, 1e-9);
    EXPECT_LE(c.mean, 0) << "the advice has the smaller mean";
    EXPECT_LT(c.low95, c.probability);
    EXPECT_GT(c.high95, c.probability);
    EXPECT_LT(c.p10, 0);
    EXPECT_GT(c.p90, 0);
}

TEST(PlanUncertainty, WhereTheEstimatesSayTheOppositeTheSentenceGivesTheMeansThatDecide) {
    const Road road(26);
    PlanInputs in = road.inputs();
    const double even = even_permit(road);
    int opposite = 0;
    for (const double beside : {-3.0, 3.0}) {
        in.rates.permit = Money::from_units(even + beside);
        const Plan plan = make_plan(in);
        const Option& advised = *plan.find_option(plan.verdict.option);
        const Option& other = option(plan, advised.mode == Mode::drive ? Mode::haul : Mode::drive);
        ASSERT_LT(*advised.cost.mean, *other.cost.mean);
        const bool says_opposite = *other.cost.total < *advised.cost.total;
        opposite += says_opposite ? 1 : 0;
        const std::string mean = fmt::format("({:.0f} on average)", *advised.cost.mean);
        EXPECT_EQ(plan.verdict.sentence.find(mean) != std::string::npos, says_opposite)
            << plan.verdict.sentence;
    }
    EXPECT_EQ(opposite, 1);
}

TEST(PlanUncertainty, InputsThatTurnTheVerdictDoSo) {
    const Road road(26);
    PlanInputs in = road.inputs();
    in.rates.permit = Money::from_units(even_permit(road) + 25);
    const Plan plan = make_plan(in);
    ASSERT_EQ(plan.verdict.mode, Mode::drive);
    ASSERT_THAT(plan.uncertainty->flips, SizeIs(3));
    EXPECT_LE(plan.uncertainty->flips[0].reach, plan.uncertainty->flips[1].reach);
    EXPECT_LE(plan.uncertainty->flips[1].reach, plan.uncertainty->flips[2].reach);
    for (const CostFlip& f : plan.uncertainty->flips)
        EXPECT_THAT(plan.verdict.would_flip, Contains(f.text));
    // What is said of a rate is tried: beyond the value the advice is another.
    int tried = 0;
    for (const CostFlip& f : plan.uncertainty->flips) {
        const auto advice_with = [&](double value) {
            PlanInputs other = in;
            if (f.input == "permit")
                other.rates.permit = Money::from_units(value);
            else if (f.input == "truck_hour")
                other.rates.truck_per_h = Money::from_units(value);
            else if (f.input == "truck_km")
                other.rates.truck_per_km = Money::from_units(value);
            else if (f.input == "loading_time") {
                const double times = value / f.now;
                other.rates.load_time = other.rates.load_time * times;
                other.rates.unload_time = other.rates.unload_time * times;
            } else if (f.input == "empty_runs")
                other.low_bed.empty_run = Length::from_km(value / 2);
            else if (f.input == "fuel_price")
                other.rates.fuel_per_l = Money::from_units(value);
            else
                return Mode::none;
            ++tried;
            return make_plan(other).verdict.mode;
        };
        const double step = 0.1 * (f.at - f.now);
        const Mode beyond = advice_with(f.at + step), before = advice_with(f.at - step);
        EXPECT_TRUE(beyond == Mode::haul || beyond == Mode::none) << f.text;
        EXPECT_TRUE(before == Mode::drive || before == Mode::none) << f.text;
    }
    EXPECT_GE(tried, 4) << "two inputs, on both sides";
}

TEST(PlanUncertainty, WithoutAnotherModeThereIsNothingToBeSureOf) {
    const Road road(4);
    PlanInputs in = road.inputs();
    in.haul = false;
    const Plan plan = make_plan(in);
    ASSERT_TRUE(plan.uncertainty);
    EXPECT_FALSE(plan.verdict.probability_cheapest);
    EXPECT_FALSE(plan.verdict.too_close);
    EXPECT_FALSE(plan.break_even);
    EXPECT_TRUE(plan.uncertainty->flips.empty());
}

TEST(PlanUncertainty, CalibratedWearNarrowsTheBand) {
    const Road road(8);
    PlanInputs in = road.inputs();
    const auto width = [&] {
        const Plan plan = make_plan(in);
        const Option& o = option(plan, Mode::drive);
        return *o.cost.high - *o.cost.low;
    };
    const double assumed = width();
    in.wear.sd_share = 0.1;
    in.wear.calibrated = true;
    EXPECT_LT(width(), 0.8 * assumed);
}

TEST(PlanUncertainty, BothBasesAreTold) {
    const Road road(3);  // no stops, whose places would depend on the basis
    PlanInputs in = road.inputs();
    const Plan marginal = make_plan(in);
    in.rates.basis = CostBasis::full;
    const Plan full = make_plan(in);
    const Option &a = option(marginal, Mode::drive), &b = option(full, Mode::drive);
    EXPECT_EQ(a.cost.basis, "marginal");
    EXPECT_EQ(b.cost.basis, "full");
    EXPECT_GT(*b.cost.total, *a.cost.total + 1);
    EXPECT_NEAR(*a.cost.other_basis_total, *b.cost.total, 1e-9);
    EXPECT_NEAR(*b.cost.other_basis_total, *a.cost.total, 1e-9);
    EXPECT_THAT(marginal.verdict.reasons[0],
                HasSubstr("on the marginal basis; on the full basis driving costs"));
}

TEST(PlanBreakEven, ThisMovesCostsLieOnItsCurve) {
    const Road road(8);
    const Plan plan = make_plan(road.inputs());
    ASSERT_TRUE(plan.break_even);
    const PlanBreakEven& b = *plan.break_even;
    EXPECT_EQ(b.length_m, 40000);
    EXPECT_NEAR(b.hauled_share, 1, 1e-6);
    bool met = false;
    for (const auto& [at_m, drive, haul] : b.curve)
        if (std::abs(at_m - b.length_m) < 1) {
            met = true;
            // Real stops also take time to pull out of the lay-by, and there are as many.
            EXPECT_NEAR(drive, *option(plan, Mode::drive).cost.total, 3);
            EXPECT_NEAR(haul, *option(plan, Mode::haul).cost.total, 0.01);
        }
    EXPECT_TRUE(met);
    ASSERT_TRUE(b.haul_from_m && b.drive_below_m && b.line_m);
    EXPECT_LE(*b.haul_from_m, *b.drive_below_m);
    EXPECT_NEAR(*b.line_m, *b.haul_from_m, 0.1 * *b.haul_from_m);
}

TEST(PlanBreakEven, EmptyRunsOfTheLowBedMoveIt) {
    const Road road(8);
    PlanInputs in = road.inputs();
    in.rates.basis = CostBasis::full;
    in.low_bed.empty_run = Length::from_km(10);
    const double near = make_plan(in).break_even->haul_from_m.value();
    in.low_bed.empty_run = in.low_bed.empty_run * 2;
    EXPECT_GT(make_plan(in).break_even->haul_from_m.value(), near);
}

TEST(ReturnTrips, TheWayHomeIsPlannedAndPriced) {
    const Road road(8);
    PlanInputs in = road.inputs();
    EXPECT_FALSE(make_plan(in).return_trip);
    in.return_trip = true;
    const Plan plan = make_plan(in);
    ASSERT_TRUE(plan.return_trip);
    const ReturnTrip& home = *plan.return_trip;
    EXPECT_EQ(home.mode, Mode::drive);
    const Option& out = *plan.find_option(plan.verdict.option);
    EXPECT_NEAR(*home.both_ways, *out.cost.total + *home.cost, 1e-9);
    EXPECT_NEAR(*home.length_m, *out.length_m, 1);
    EXPECT_THAT(plan.verdict.reasons, Contains(HasSubstr("Both ways about")));
    // The same as asking for the way home by itself, with what the way out left of the powder.
    PlanInputs back = road.inputs();
    std::swap(back.from, back.to);
    back.belts = belts_after(back.belts, out);
    EXPECT_NEAR(*make_plan(back).find_option(home.option)->cost.total, *home.cost, 1e-6);
}

// The way home began freshly powdered "by the work", while budgets, seasons and the ledger count on.
TEST(ReturnTrips, FieldWorkPutsNoPowderOn) {
    const Road road(2);
    PlanInputs in = road.inputs();
    in.return_trip = true;
    const Plan plan = make_plan(in);
    EXPECT_THAT(plan.find_option(plan.verdict.option)->stops, ::testing::IsEmpty());
    EXPECT_THAT(
        plan.verdict.reasons,
        Contains(HasSubstr("(same hour; 10.0 km since the last powder, field work counts for none)")));
    EXPECT_THAT(plan.return_trip->sentence, HasSubstr("1 re-lube stop"));
    in.belts.condition = BeltsNow::Condition::washed;
    EXPECT_THAT(make_plan(in).verdict.reasons,
                Contains(HasSubstr("(same hour; 10.0 km since the last powder")));
}

TEST(BeltsAfter, HaulingChangesNothingAndPlacesCountAlongTheWholeOption) {
    BeltsNow washed;
    washed.condition = BeltsNow::Condition::washed;
    washed.since_lube = Length::from_km(7);
    Option o;
    o.mode = Mode::haul;
    EXPECT_EQ(belts_after(washed, o).since_lube.km(), 7);
    EXPECT_EQ(belts_after(washed, o).condition, BeltsNow::Condition::washed);
    // 2 km driven, 20 km hauled, powder where it comes off, 3 km driven.
    o.mode = Mode::mixed;
    o.length_m = 5000;
    Leg leg;
    leg.length_m = 2000;
    o.legs.push_back(leg);
    leg.mode = Mode::haul;
    leg.length_m = 20000;
    o.legs.push_back(leg);
    leg.mode = Mode::drive;
    leg.length_m = 3000;
    o.legs.push_back(leg);
    EXPECT_EQ(belts_after(washed, o).since_lube.km(), 12);
    PlanStop powder;
    powder.kind = "relube";
    powder.at_m = 22000;
    o.stops.push_back(powder);
    EXPECT_NEAR(belts_after(washed, o).since_lube.km(), 3, 1e-9);
    EXPECT_EQ(belts_after(washed, o).condition, BeltsNow::Condition::run_in);
}

// No figure of a sentence stays in units that the reader did not ask for.
TEST(ImperialPlans, SayMilesFeetAndFahrenheit) {
    const Road road(8);
    PlanInputs in = road.inputs();
    in.units = "imperial";
    in.conditions.air = Temperature::from_celsius(36);
    in.belts.hours = 40;
    const Plan plan = make_plan(in);
    std::vector<std::string> texts = plan.verdict.reasons;
    texts.push_back(plan.verdict.sentence);
    texts.insert(texts.end(), plan.verdict.would_flip.begin(), plan.verdict.would_flip.end());
    for (const Option& o : plan.options) {
        texts.insert(texts.end(), o.why_not.begin(), o.why_not.end());
        texts.insert(texts.end(), o.answer_needed.begin(), o.answer_needed.end());
        for (const Flag& f : o.flags)
            if (f.kind != "loading" && f.kind != "marking")
                texts.push_back(f.text);
        for (const PlanStop& s : o.stops) {
            texts.push_back(s.why);
            texts.push_back(s.how_to_find);
        }
    }
    int miles = 0;
    for (const std::string& text : texts) {
        for (const char* metric : {" km", "km/h", "°C", " mm"})
            EXPECT_THAT(text, ::testing::Not(HasSubstr(metric)));
        miles += text.find(" mi") != std::string::npos ? 1 : 0;
    }
    EXPECT_GT(miles, 3);
    EXPECT_THAT(texts, Contains(HasSubstr("empty running assumed: 12.4 mi to the pick-up and 12.4 mi back")));
}

// One input stands for both permits, and its line spoke of the low-bed's, "0.00 now", where driving paid one.
TEST(PlanUncertainty, WhatWouldFlipNamesThePermitThatIsPaid) {
    const Road road(8);
    PlanInputs in = road.inputs();
    in.recipe.permit_from_width = Length::from_metres(1);
    in.rates.permit = in.rates.drive_permit = Money();
    const Plan free = make_plan(in);
    double drive = 1e9;
    for (const Option& o : free.options)
        if (o.mode == Mode::drive)
            drive = std::min(drive, *o.cost.mean);
    const double gap = *option(free, Mode::haul).cost.mean - drive;
    const auto permit_line = [&](const PlanInputs& asked) {
        const Plan plan = make_plan(asked);
        for (const CostFlip& f : plan.uncertainty->flips)
            if (f.input == "permit")
                return f.text;
        return std::string();
    };
    (gap > 0 ? in.rates.drive_permit : in.rates.permit) = Money::from_units(std::abs(gap) * 0.8);
    EXPECT_THAT(permit_line(in),
                HasSubstr(gap > 0 ? "permit for driving above" : "permit for the low-bed above"));
    EXPECT_THAT(permit_line(in), ::testing::Not(HasSubstr("(0")));
    // The same permit for both changes nothing between them but by its size.
    (gap > 0 ? in.rates.permit : in.rates.drive_permit) = Money::from_units(std::abs(gap) * 0.1);
    EXPECT_THAT(permit_line(in), HasSubstr("times what they cost now"));
}

// Hours were compared by cost as estimated, the advice goes by the mean of the trials.
TEST(PlanUncertainty, EveryHourIsJudgedAsTheAdviceIs) {
    const Road road(8);
    PlanInputs in = road.inputs();
    const double even = even_permit(road);
    in.when = WhenWindow{9 * 60, 10 * 60};
    for (const double off : {-8.0, 8.0}) {
        in.rates.permit = Money::from_units(even + off);
        const Plan plan = make_plan(in);
        ASSERT_EQ(plan.verdict.mode, off < 0 ? Mode::haul : Mode::drive);
        for (const Departure& d : *plan.departures)
            EXPECT_EQ(plan.find_option(d.option)->mode, plan.verdict.mode) << off;
    }
}

}  // namespace
}  // namespace loamway
