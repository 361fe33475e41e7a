// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/load_words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "loamway/base/unit_words.h"
#include "loamway/haul/loading_plan.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using testing::HasSubstr;

LoadingPlan sample(const std::string& machine, const std::string& units) {
    const std::string path = test::source_path("examples/profiles/" + machine + ".toml");
    LoadingInputs in;
    in.machine = read_machine(parse_toml(test::slurp(path), path), path);
    in.recipe.units = units;
    return make_loading_plan(in);
}

TEST(LoadWords, metric_and_imperial) {
    const LoadWords m("metric"), i("imperial");
    // 2.55 m are 8.366 ft: 8 ft and 4.39 in.
    EXPECT_EQ(m.size(Length::from_metres(2.55)), "2.55 m");
    EXPECT_EQ(i.size(Length::from_metres(2.55)), "8 ft 4.4 in");
    EXPECT_EQ(i.size(Length::from_metres(0.3047)), "1 ft 0.0 in") << "no foot has 12.0 inches";
    EXPECT_EQ(i.size(Length::from_metres(0.1)), "3.9 in");
    EXPECT_EQ(i.size(Length::from_metres(-0.1)), "-3.9 in");
    EXPECT_EQ(m.range(Length::from_metres(1.2), Length::from_metres(1.5)), "1.20 to 1.50 m");
    EXPECT_EQ(i.range(Length::from_metres(1.2), Length::from_metres(1.5)), "3 ft 11.2 in to 4 ft 11.1 in");
    EXPECT_EQ(i.small(Length::from_mm(150)), "5.9 in");
    EXPECT_EQ(i.bend(Length::from_mm(1.2)), "0.05 in");
    // A pound is 0.45359237 kg, pound-force 4.44822 N, a psi 6894.757 Pa, a foot pound-force 1.35582 J.
    EXPECT_EQ(i.mass(Mass::from_kg(16000)), "35274 lb");
    EXPECT_EQ(m.mass_of(Mass::from_kg(3100), Mass::from_kg(7500)), "3.1 of 7.5 t");
    EXPECT_EQ(i.mass_of(Mass::from_kg(3100), Mass::from_kg(7500)), "6834 of 16535 lb");
    EXPECT_EQ(m.chain(Mass::from_kg(5000)), "5000 kg");
    EXPECT_EQ(i.force(Force::from_newtons(93000)), "20900 lbf");
    EXPECT_EQ(i.small_force(Force::from_newtons(9300)), "2090 lbf");
    EXPECT_EQ(i.energy(Energy::from_joules(1200)), "890 ft lbf");
    EXPECT_EQ(m.stress(Stress::from_megapascals(4.12), 1), "4.1 MPa");
    EXPECT_EQ(i.stress(Stress::from_megapascals(4.12), 1), "600 psi");
}

// Sentences were metric whatever the plan's units were.
TEST(LoadWords, an_imperial_loading_plan_says_no_metric_figure) {
    const testing::Matcher<std::string> metric =
        testing::ContainsRegex("[0-9] (m|mm|t|kN|kg|MPa|kJ)[ ,;:)]|[0-9] (m|mm|t|kN|kg|MPa|kJ)$");
    for (const char* machine : {"medium", "large", "four-belt", "half-track"}) {
        const LoadingPlan plan = sample(machine, "imperial");
        for (const std::string& step : plan.steps)
            EXPECT_THAT(step, testing::Not(metric)) << machine;
        for (const Finding& f : plan.findings)
            EXPECT_THAT(f.text, testing::Not(metric)) << machine;
    }
    EXPECT_THAT(sample("medium", "imperial").steps,
                testing::Contains(HasSubstr("5.9 in each; boards of 3.0 in")));
    EXPECT_THAT(sample("medium", "metric").steps,
                testing::Contains(HasSubstr("150 mm each; boards of 75 mm")));
}

TEST(LoadWords, figures_of_the_json_stay_si) {
    const Value metric = loading_plan_to_json(sample("medium", "metric"));
    const Value imperial = loading_plan_to_json(sample("medium", "imperial"));
    for (const char* part : {"mass_kg", "across", "ramp", "boards", "place", "loaded", "tie_downs"})
        EXPECT_EQ(to_json(*metric.find(part)), to_json(*imperial.find(part))) << part;
    EXPECT_NE(to_json(*metric.find("steps")), to_json(*imperial.find("steps")));
}

// A plan said 8.4 ft and 40600 lb, its loading 8 ft 4.4 in and 40565 lb.
TEST(LoadWords, LookLikeThoseOfPlans) {
    for (const char* units : {"metric", "imperial"}) {
        const LoadWords load(units);
        const UnitWords plan(units);
        for (const double x : {-0.3, 0.0, 0.1, 0.3047, 2.55, 18.4}) {
            EXPECT_EQ(load.size(Length::from_metres(x)), plan.size(x));
            EXPECT_EQ(load.mass(Mass::from_tonnes(x)), plan.mass(x));
        }
    }
    EXPECT_EQ(UnitWords("imperial").size(2.55), "8 ft 4.4 in");
    EXPECT_EQ(UnitWords("imperial").mass(18.4), "40565 lb");
}

}  // namespace
}  // namespace loamway
