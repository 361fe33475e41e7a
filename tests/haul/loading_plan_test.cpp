// SPDX-License-Identifier: Apache-2.0
#include "loamway/haul/loading_plan.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/test_files.h"

namespace loamway {
namespace {

using testing::HasSubstr;

Machine example(const std::string& name) {
    const std::string path = test::source_path("examples/profiles/" + name + ".toml");
    return read_machine(parse_toml(test::slurp(path), path), path);
}
LowBed shipped_low_bed() {
    const std::string path = test::source_path("examples/profiles/low-bed.toml");
    return read_low_bed(parse_toml(test::slurp(path), path), path);
}
LoadingInputs inputs(const std::string& machine) {
    LoadingInputs in;
    in.machine = example(machine);
    in.low_bed = shipped_low_bed();
    return in;
}
std::vector<std::string> said(const LoadingPlan& plan, Concern concern) {
    std::vector<std::string> out;
    for (const Finding& f : plan.findings)
        if (f.concern == concern)
            out.push_back(f.text);
    return out;
}
void expect_stop(const LoadingPlan& plan, const std::string& words) {
    EXPECT_THAT(said(plan, Concern::stop), testing::Contains(HasSubstr(words)));
    EXPECT_FALSE(plan.can_be_done());
}

TEST(LoadingPlan, a_medium_machine_fits_with_outriggers) {
    const LoadingPlan p = make_loading_plan(inputs("medium"));
    EXPECT_TRUE(p.can_be_done()) << said(p, Concern::stop).front();
    EXPECT_TRUE(p.assumed.empty());
    EXPECT_TRUE(p.across.outriggers);
    EXPECT_NEAR(p.across.extension.mm(), 150, 1e-6);
    EXPECT_EQ(p.outriggers_needed, 5);
    EXPECT_NEAR(p.board_above_deck.mm(), 10, 1e-6);
    // Deck, boards above it, machine: .90 + .01 + 3.40.
    EXPECT_NEAR(p.loaded.height.metres(), 4.31, 1e-9);
    EXPECT_NEAR(p.loaded.width.metres(), 2.85, 1e-9);  // the boards stick out beyond the belts
    EXPECT_NEAR(p.loaded.length.metres(), 16.5, 1e-9);
    EXPECT_NEAR(p.loaded.mass.tonnes(), 34.5, 1e-9);
    EXPECT_TRUE(p.ramp.see_saw);
    EXPECT_FALSE(p.ramp.clearance_needed);
}

// The haulage model's loaded height: deck 0.55 + board 0.05 + machine 3.35 = 3.95 m.
TEST(LoadingPlan, loaded_height_counts_deck_and_boards) {
    LoadingInputs in = inputs("medium");
    in.low_bed.deck_height = Length::from_metres(0.55);
    in.low_bed.deck.cover = Length::from_metres(0.05);
    in.machine.states.front().height = Length::from_metres(3.35);
    EXPECT_NEAR(make_loading_plan(in).loaded.height.metres(), 3.95, 1e-9);
}

TEST(LoadingPlan, the_place_keeps_every_limit_and_the_machine_on_the_deck) {
    const LoadingPlan p = make_loading_plan(inputs("medium"));
    const DeckPlace& d = p.place;
    ASSERT_TRUE(d.possible);
    EXPECT_GE(d.centre, d.from);
    EXPECT_LE(d.centre, d.to);
    EXPECT_GE(d.machine_from, p.low_bed.deck.start);
    EXPECT_LE(d.machine_to, p.low_bed.deck.end());
    EXPECT_NEAR((d.machine_to - d.machine_from).metres(), p.state.length.metres(), 1e-9);
    EXPECT_NEAR((d.stands_to - d.stands_from).metres(), 2.0, 1e-9);
    EXPECT_NEAR((d.centre - d.stands_from).metres(), p.state.centre_behind.metres(), 1e-9);
    const AxleLoads& l = p.loaded.loads;
    EXPECT_LE(l.trailer, p.low_bed.axles.trailer_limit);
    EXPECT_LE(l.kingpin, p.low_bed.axles.kingpin_limit);
    EXPECT_NEAR(l.gross().tonnes(), 34.5, 1e-9);
}

TEST(LoadingPlan, over_the_front_it_faces_the_rear) {
    LoadingInputs in = inputs("medium");
    in.low_bed.ramp.at_front = true;
    const DeckPlace& d = make_loading_plan(in).place;
    EXPECT_TRUE(d.faces_rear);
    EXPECT_NEAR((d.stands_to - d.centre).metres(), in.machine.states.front().centre_behind.metres(), 1e-9);
    EXPECT_NEAR((d.machine_to - d.stands_to).metres(), in.machine.states.front().front_overhang.metres(),
                1e-9);
}

// gauge 3.05 m on a deck of 2.55 m: the belts' middles are off the deck.
TEST(LoadingPlan, a_wide_gauge_is_flagged_red) {
    LoadingInputs in = inputs("medium");
    in.machine.belts.gauge = Length::from_metres(3.05);
    const LoadingPlan p = make_loading_plan(in);
    expect_stop(p, "the middles of the belts stand 0.25 m off the deck on each side");
    expect_stop(p, "the outriggers reach 250 mm");
    EXPECT_THAT(p.boards.back().what, HasSubstr("outriggers"));
    // The whole roller force, not a share of it.
    EXPECT_EQ(p.boards.back().load, p.boards.front().load);
}

TEST(LoadingPlan, without_outriggers_a_narrow_deck_will_not_do) {
    LoadingInputs in = inputs("medium");
    in.low_bed.outriggers.per_side = 0;
    expect_stop(make_loading_plan(in), "has no outriggers");
    in.low_bed.deck.width = Length::from_metres(2.9);
    EXPECT_TRUE(make_loading_plan(in).can_be_done());
}

// 0 to 15 mm above the deck, never below.
TEST(LoadingPlan, boards_lie_level) {
    LoadingInputs in = inputs("medium");
    in.low_bed.outriggers.below_deck = Length::from_mm(80);
    expect_stop(make_loading_plan(in), "5 mm too low");
    in.low_bed.outriggers.below_deck = Length::from_mm(50);
    EXPECT_THAT(said(make_loading_plan(in), Concern::check),
                testing::Contains(HasSubstr("25 mm above the deck")));
    for (const double mm : {60.0, 75.0}) {
        in.low_bed.outriggers.below_deck = Length::from_mm(mm);
        for (const std::string& f : said(make_loading_plan(in), Concern::check))
            EXPECT_THAT(f, testing::Not(HasSubstr("above the deck")));
    }
}

// A ramp whose edge was 50 mm below the deck was said to lie 10 mm above it, on its cross beam.
TEST(LoadingPlan, ramps_that_do_not_meet_the_deck_are_to_be_looked_at) {
    LoadingInputs in = inputs("medium");
    for (const std::string& f : said(make_loading_plan(in), Concern::check))
        EXPECT_THAT(f, testing::Not(HasSubstr("ramps lead to an edge")));
    in.low_bed.deck_height = Length::from_metres(0.95);
    const LoadingPlan low = make_loading_plan(in);
    EXPECT_TRUE(low.can_be_done());
    EXPECT_THAT(
        said(low, Concern::check),
        testing::Contains(HasSubstr("the ramps lead to an edge 0.90 m high, 50 mm below the deck (0.95 m)")));
    EXPECT_THAT(low.steps, testing::Contains(testing::EndsWith("tops 10 mm above that edge")));
    in.low_bed.deck_height = Length::from_metres(0.85);
    EXPECT_THAT(said(make_loading_plan(in), Concern::check),
                testing::Contains(HasSubstr("50 mm above the deck (0.85 m)")));
    in.low_bed.deck_height = Length::from_metres(0.905);
    EXPECT_THAT(said(make_loading_plan(in), Concern::check),
                testing::Not(testing::Contains(HasSubstr("ramps lead"))));
}

TEST(LoadingPlan, friction_decides_on_wet_boards) {
    LoadingInputs in = inputs("medium");
    in.low_bed.ramp.length = Length::from_metres(3.6);  // 14.6 degrees
    in.machine.states.front().front_clearance = in.machine.states.front().rear_clearance =
        Length::from_metres(1);
    EXPECT_TRUE(make_loading_plan(in).can_be_done());
    in.slippery = true;
    expect_stop(make_loading_plan(in), "wet or powdered boards and belts carry up to 14.0 degrees");
}

TEST(LoadingPlan, overhangs_must_pass_the_ramp) {
    LoadingInputs in = inputs("medium");
    in.machine.states.front().front_clearance = Length::from_metres(0.2);
    expect_stop(make_loading_plan(in), "the front overhang passes 5.7 degrees, the ramp has 11.9");
    in = inputs("medium");
    in.machine.states.front().rear_clearance = Length::from_metres(0.2);
    expect_stop(make_loading_plan(in), "the rear overhang passes 5.2 degrees");
}

TEST(LoadingPlan, two_axle_groups_bridge_the_edge) {
    LoadingInputs in = inputs("four-belt");
    const LoadingPlan p = make_loading_plan(in);
    EXPECT_FALSE(p.ramp.see_saw);
    ASSERT_TRUE(p.ramp.clearance_needed);
    EXPECT_NEAR(p.ramp.clearance_needed->metres(), 0.204, 5e-4);
    EXPECT_EQ(p.outriggers_needed, 8);  // four under each belt of 1.3 m
    EXPECT_TRUE(p.can_be_done()) << said(p, Concern::stop).front();
    in.machine.ground_clearance = Length::from_metres(0.2);
    expect_stop(make_loading_plan(in), "would touch between the axles: 0.20 m clearance needed");
}

TEST(LoadingPlan, the_ramp_head_is_checked_unless_it_rests_on_the_beam) {
    LoadingInputs in = inputs("medium");
    in.low_bed.ramp.head_on_beam = false;
    expect_stop(make_loading_plan(in), "ramp plank at the upper edge");
}

TEST(LoadingPlan, an_infeasible_window_says_which_limit_binds) {
    LoadingInputs in = inputs("medium");
    in.low_bed.axles.steer_limit = Mass::from_kg(5300);
    in.low_bed.axles.trailer_limit = Mass::from_tonnes(15);
    const LoadingPlan p = make_loading_plan(in);
    expect_stop(p, "nowhere on the deck: the steering axle limit wants the centre of mass at least");
    expect_stop(p, "the trailer axles limit at most");
    EXPECT_FALSE(p.place.possible);
}

TEST(LoadingPlan, a_short_deck_is_said) {
    LoadingInputs in = inputs("medium");
    in.low_bed.deck.length = Length::from_metres(1.9);
    expect_stop(make_loading_plan(in), "does not hold the belts there");
}

TEST(LoadingPlan, overload_chains_and_what_is_towed) {
    LoadingInputs in = inputs("medium");
    in.low_bed.max_load = Mass::from_tonnes(15);
    expect_stop(make_loading_plan(in), "weighs 16.0 t, the low-bed carries 15.0 t");
    in = inputs("medium");
    in.state = "towing";
    in.low_bed.chains.limit = Mass::from_kg(2000);
    const auto checks = said(make_loading_plan(in), Concern::check);
    EXPECT_THAT(checks, testing::Contains(HasSubstr("what it tows (22.0 t, 9.40 m) does not ride along")));
    EXPECT_THAT(checks, testing::Contains(HasSubstr("4 chains of 2000 kg: 9 needed")));
    EXPECT_THAT(checks, testing::Contains(HasSubstr("below the 5000 lb")));
}

TEST(LoadingPlan, what_was_left_out_is_listed) {
    LoadingInputs in = inputs("medium");
    in.low_bed = LowBed{};
    in.machine.assumed_for_loading = {"belts.gauge_mm"};
    EXPECT_THAT(make_loading_plan(in).assumed,
                testing::ElementsAre("machine belts.gauge_mm", "the whole low-bed"));
}

TEST(LoadingPlan, json_says_what_the_plan_says) {
    const LoadingPlan p = make_loading_plan(inputs("medium"));
    const Value v = loading_plan_to_json(p);
    EXPECT_EQ(*v.find("schema")->as_string(), "loamway.load/1");
    EXPECT_TRUE(*v.find("can_be_done")->as_bool());
    EXPECT_TRUE(v.find("limits")->is_null());
    EXPECT_DOUBLE_EQ(v.find("loaded")->find("height_m")->number(), 4.31);
    EXPECT_NEAR(v.find("place")->find("centre_behind_kingpin_m")->number(), p.place.centre.metres(), 5e-4);
    EXPECT_EQ(v.find("findings")->as_array()->size(), p.findings.size());
    EXPECT_EQ(v.find("cautions")->as_array()->size(), loading_cautions().size());
    LoadingInputs in = inputs("medium");
    in.low_bed.deck.length = Length::from_metres(1.9);
    EXPECT_TRUE(loading_plan_to_json(make_loading_plan(in)).find("place")->find("loads_kg")->is_null());
}

}  // namespace
}  // namespace loamway
