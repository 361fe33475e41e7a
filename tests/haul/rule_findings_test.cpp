// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/rule_findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/test_files.h"

namespace loamway {
namespace {

LimitsTable shipped(const std::string& name) {
    const std::string path = test::source_path("regions/limits/" + name + ".toml");
    return read_limits_table(parse_toml(test::slurp(path), path), path);
}
Machine example(const std::string& name) {
    const std::string path = test::source_path("examples/profiles/" + name + ".toml");
    return read_machine(parse_toml(test::slurp(path), path), path);
}
LoadedLowBed low_bed(double width, double height, double length, double tonnes) {
    LoadedLowBed l;
    l.width = Length::from_metres(width);
    l.height = Length::from_metres(height);
    l.length = Length::from_metres(length);
    l.kingpin_to_rear = Length::from_metres(11.25);
    l.mass = Mass::from_tonnes(tonnes);
    l.loads = axle_loads(l.axles, l.mass - Mass::from_tonnes(18.5), Length::from_metres(6.5));
    return l;
}
/// "kind: text" of all findings that ask for a look.
std::vector<std::string> checks(const std::vector<Finding>& findings) {
    std::vector<std::string> out;
    for (const Finding& f : findings)
        if (f.concern == Concern::check)
            out.push_back(f.kind + ": " + f.text);
    return out;
}
Recipe generous() {
    Recipe r;
    r.permit_from_width = r.escort_from_width = Length::from_metres(12);
    return r;
}
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::StartsWith;

// The three rows of the haulage model: EU 3.00 x 4.05 x 16.4 m, 38 t; US 3.0 x 4.12 x 20 m, 36.2 t; 36.29 t.
TEST(RuleFindings, low_bed_over_the_european_directive) {
    const LimitsTable eu = shipped("eu-96-53");
    EXPECT_THAT(checks(low_bed_findings(low_bed(3.00, 4.05, 16.4, 38), &eu, generous())),
                ElementsAre(AllOf(StartsWith("width: loaded low-bed width 3.00 m, limit 2.55 m"),
                                  HasSubstr("seen in extract"), HasSubstr("the local code decides")),
                            StartsWith("height: loaded low-bed height 4.05 m, limit 4.00 m")));
}
TEST(RuleFindings, low_bed_over_the_federal_limits_of_the_united_states) {
    const LimitsTable us = shipped("us-federal");
    EXPECT_THAT(
        checks(low_bed_findings(low_bed(3.0, 4.12, 20, 36.2), &us, generous())),
        ElementsAre(StartsWith("width: "), AllOf(StartsWith("height: "), HasSubstr("no federal limit"))));
    EXPECT_THAT(checks(low_bed_findings(low_bed(2.5, 4.0, 20, 36.29), &us, generous())),
                testing::Contains(StartsWith("mass: loaded low-bed 36.3 t, limit 36.3 t (23 CFR 658.17")));
    EXPECT_THAT(checks(low_bed_findings(low_bed(2.5, 4.0, 20, 36.28), &us, generous())),
                testing::Not(testing::Contains(StartsWith("mass: "))));
}

// The tri-axle 1.36 m apart may carry 24 t by the directive (from memory), at 1.30 m 21 t.
TEST(RuleFindings, groups_of_axles_by_their_spacing) {
    const LimitsTable eu = shipped("eu-96-53");
    LoadedLowBed l = low_bed(2.5, 3.9, 16.5, 40);
    l.loads.trailer = Mass::from_tonnes(22);
    EXPECT_THAT(checks(low_bed_findings(l, &eu, generous())), ElementsAre());
    l.axles.trailer_spacing = Length::from_metres(1.30);
    EXPECT_THAT(checks(low_bed_findings(l, &eu, generous())),
                ElementsAre(AllOf(StartsWith("axle: trailer axles together 22.0 t, limit 21.0 t"),
                                  HasSubstr("from memory"))));
    l.loads.drive = Mass::from_tonnes(8);
    EXPECT_THAT(checks(low_bed_findings(l, &eu, generous())),
                testing::Contains(StartsWith("axle: 20 % of the mass on driven axles, 25 % at least")));
}

// The directive does not cover a driven tracked machine: nothing of it is compared, and the table says so.
TEST(RuleFindings, driven_machine) {
    const Machine m = example("large");
    const LimitsTable eu = shipped("eu-96-53"), generic = shipped("generic");
    const std::vector<Finding> by_directive = machine_findings(m, m.state("bare"), &eu, generous());
    EXPECT_THAT(checks(by_directive), ElementsAre());
    EXPECT_THAT(by_directive.front().text, HasSubstr("national law"));
    EXPECT_THAT(checks(machine_findings(m, m.state("bare"), &generic, generous())),
                ElementsAre(StartsWith("width: machine width 3.00 m, limit 2.55 m (assumption)")));
    EXPECT_THAT(
        checks(machine_findings(m, m.state("towing"), &generic, generous())),
        ElementsAre(StartsWith("width: "), StartsWith("length: machine with what it tows length 19.10 m, "),
                    StartsWith("mass: machine with what it tows 55.2 t, limit 40.0 t")));
}

TEST(RuleFindings, thresholds_of_the_recipe) {
    const Machine m = example("large");
    Recipe r;
    r.daylight_from_width = Length::from_metres(3.0);
    EXPECT_THAT(
        checks(machine_findings(m, m.state("bare"), nullptr, r)),
        ElementsAre(StartsWith("permit: machine width 3.00 m: from 3.00 m on"), StartsWith("daylight: ")));
    r.escort_from_width = Length::from_metres(2.9);
    EXPECT_EQ(checks(machine_findings(m, m.state("bare"), nullptr, r)).size(), 3u);
    EXPECT_TRUE(machine_findings(m, m.state("bare"), nullptr, generous()).empty());
}

// A recipe in feet and pounds is answered in them.
TEST(RuleFindings, imperial_recipes) {
    const Machine m = example("large");
    const LimitsTable us = shipped("us-federal");
    Recipe r = generous();
    r.units = "imperial";
    r.permit_from_width = Length::from_metres(2.5908);
    const auto found = checks(machine_findings(m, m.state("bare"), &us, r));
    EXPECT_THAT(found, testing::Contains(StartsWith("width: machine width 9 ft 10.1 in, limit 8 ft 6.0 in")));
    EXPECT_THAT(found,
                testing::Contains(StartsWith("permit: machine width 9 ft 10.1 in: from 8 ft 6.0 in on")));
    EXPECT_THAT(checks(low_bed_findings(low_bed(2.5, 4.0, 20, 36.6), &us, r)),
                testing::Contains(StartsWith("mass: loaded low-bed 80689 lb, limit 80000 lb")));
}

// Many groups over: one finding, naming how many and the worst.
TEST(RuleFindings, bridge_formula_is_summed_up_in_one_finding) {
    const LimitsTable us = shipped("us-federal");
    const auto found = checks(low_bed_findings(low_bed(2.5, 4.0, 20, 48), &us, generous()));
    EXPECT_EQ(std::count_if(found.begin(), found.end(),
                            [](const std::string& f) { return f.starts_with("bridge_formula"); }),
              1);
    EXPECT_THAT(found, testing::Contains(HasSubstr("of 21 groups of consecutive axles over; worst axles ")));
}

TEST(RuleFindings, what_is_within_is_said_in_one_note) {
    const LimitsTable eu = shipped("eu-96-53");
    const std::vector<Finding> found = low_bed_findings(low_bed(2.5, 3.9, 16.5, 38), &eu, generous());
    ASSERT_EQ(found.back().kind, "within");
    EXPECT_THAT(found.back().text, AllOf(HasSubstr("width, height, length, kingpin to rear, gross mass"),
                                         HasSubstr("the local code decides")));
}

}  // namespace
}  // namespace loamway
