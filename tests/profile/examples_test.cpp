// SPDX-License-Identifier: Apache-2.0
// The profiles that ship. Figures of the three two-belt machines: generic machines of the heat and wear
// model, invented (assumption), stated in check values of that model as S, M and L.
#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <set>

#include "loamway/profile/machine.h"
#include "support/test_files.h"

namespace loamway {
namespace {

Machine example(const std::string& name) {
    const std::string path = test::source_path("examples/profiles/" + name + ".toml");
    return read_machine(parse_toml(test::slurp(path), path), path);
}

struct Generic {
    const char* file;
    double mass_kg, length_m, width_m, bar_mm, thickness_mm, worn_mm, carcass_mm, fill, run_m;
    int rollers;
    double engine_kw, top_kmh, contact_m;
};
constexpr std::array<Generic, 3> generic_machines{{
    {"small", 9500, 5.5, 0.40, 45, 45, 12, 25, 0.35, 1.5, 3, 120, 30, 0.14},
    {"medium", 16000, 7.1, 0.55, 55, 55, 15, 30, 0.35, 2.0, 4, 240, 40, 0.15},
    {"large", 24000, 9.0, 0.70, 65, 62, 18, 35, 0.35, 2.6, 5, 420, 40, 0.16},
}};

TEST(ExampleProfiles, generic_machines_have_the_figures_of_the_model) {
    for (const Generic& g : generic_machines) {
        SCOPED_TRACE(g.file);
        const Machine m = example(g.file);
        EXPECT_EQ(m.belts.count, 2);
        EXPECT_DOUBLE_EQ(m.states.front().mass.kg(), g.mass_kg);
        EXPECT_DOUBLE_EQ(m.states.front().heaviest_track_axle().kg(), g.mass_kg);
        EXPECT_DOUBLE_EQ(m.belts.belt_length.metres(), g.length_m);
        EXPECT_DOUBLE_EQ(m.belts.width.metres(), g.width_m);
        EXPECT_DOUBLE_EQ(m.belts.bar_height.mm(), g.bar_mm);
        EXPECT_DOUBLE_EQ(m.belts.bar_thickness.mm(), g.thickness_mm);
        EXPECT_DOUBLE_EQ(m.belts.worn_height.mm(), g.worn_mm);
        EXPECT_DOUBLE_EQ(m.belts.carcass.mm(), g.carcass_mm);
        EXPECT_DOUBLE_EQ(m.belts.fill, g.fill);
        EXPECT_DOUBLE_EQ(m.belts.ground_run.metres(), g.run_m);
        EXPECT_EQ(m.belts.mid_rollers, g.rollers);
        EXPECT_DOUBLE_EQ(m.belts.contact.metres(), g.contact_m);
        EXPECT_DOUBLE_EQ(m.engine.kw(), g.engine_kw);
        EXPECT_DOUBLE_EQ(m.top.kmh(), g.top_kmh);
    }
}

TEST(ExampleProfiles, four_belts_carry_more_in_front) {
    const Machine m = example("four-belt");
    EXPECT_EQ(m.belts.count, 4);
    EXPECT_EQ(m.steering, Steering::articulated);
    const WorkingState& bare = m.state("bare");
    EXPECT_DOUBLE_EQ(bare.mass.kg(), 24000);
    EXPECT_GT(bare.axles.at(0), bare.axles.at(1));
    EXPECT_DOUBLE_EQ(m.belts.belt_length.metres(), 5.0);
    EXPECT_DOUBLE_EQ(m.belts.width.metres(), 0.66);
    // An implement behind shifts the load: the rear axle decides there.
    EXPECT_EQ(m.state("mounted implement").heaviest_track_axle(), m.state("mounted implement").axles.at(1));
}

TEST(ExampleProfiles, the_half_track_carries_three_quarters_on_its_belts) {
    const Machine m = example("half-track");
    EXPECT_EQ(m.steering, Steering::rear_wheel);
    for (const auto& [state, tonnes] : {std::pair<const char*, double>{"bare", 19}, {"tank full", 29}}) {
        const WorkingState& s = m.state(state);
        EXPECT_DOUBLE_EQ(s.mass.tonnes(), tonnes);
        EXPECT_DOUBLE_EQ(s.heaviest_track_axle() / s.mass, 0.75);
        EXPECT_FALSE(s.tracked.at(1));
    }
}

TEST(ExampleProfiles, every_profile_can_be_read_and_leaves_nothing_to_assume) {
    std::set<std::string> seen;
    for (const auto& entry : std::filesystem::directory_iterator(test::source_path("examples/profiles"))) {
        const std::string name = entry.path().stem().string();
        SCOPED_TRACE(name);
        seen.insert(name);
        if (name == "low-bed")
            continue;
        const Machine m = example(name);
        EXPECT_TRUE(m.assumed.empty()) << m.assumed.front();
        EXPECT_TRUE(m.assumed_for_loading.empty()) << m.assumed_for_loading.front();
        EXPECT_GE(m.states.size(), 4u);
        EXPECT_EQ(m.states.front().name, "bare");
        EXPECT_GT(m.state("towing").towed.kg(), 0);
        EXPECT_GT(m.state("tank full").mass, m.state("bare").mass);
    }
    for (const char* name : {"small", "medium", "large", "four-belt", "half-track", "low-bed"})
        EXPECT_TRUE(seen.contains(name)) << name;
}

TEST(ExampleProfiles, the_low_bed_states_the_defaults) {
    const std::string path = test::source_path("examples/profiles/low-bed.toml");
    const LowBed b = read_low_bed(parse_toml(test::slurp(path), path), path);
    const LowBed d;
    EXPECT_EQ(b.empty_mass, d.empty_mass);
    EXPECT_EQ(b.max_load, d.max_load);
    EXPECT_EQ(b.axle_limit, d.axle_limit);
    EXPECT_EQ(b.length, d.length);
    EXPECT_EQ(b.width, d.width);
    EXPECT_EQ(b.height_empty, d.height_empty);
    EXPECT_EQ(b.deck_height, d.deck_height);
    EXPECT_EQ(b.empty_run, d.empty_run);
    EXPECT_EQ(b.empty_speed, d.empty_speed);
    EXPECT_EQ(b.loaded_speed, d.loaded_speed);
    EXPECT_FALSE(b.base);
    EXPECT_TRUE(b.assumed_keys.empty()) << b.assumed_keys.front();
    EXPECT_NEAR(b.axles.trailer.kg(), d.axles.trailer.kg(), 1e-9);
    EXPECT_EQ(b.axles.steer, d.axles.steer);
    EXPECT_EQ(b.axles.drive, d.axles.drive);
    EXPECT_EQ(b.axles.wheelbase, d.axles.wheelbase);
    EXPECT_EQ(b.axles.kingpin_ahead, d.axles.kingpin_ahead);
    EXPECT_EQ(b.axles.trailer_centre, d.axles.trailer_centre);
    EXPECT_EQ(b.axles.trailer_at, d.axles.trailer_at);
    EXPECT_EQ(b.axles.drive_axles, d.axles.drive_axles);
    EXPECT_EQ(b.axles.trailer_axles, d.axles.trailer_axles);
    EXPECT_EQ(b.axles.drive_spacing, d.axles.drive_spacing);
    EXPECT_EQ(b.axles.trailer_spacing, d.axles.trailer_spacing);
    EXPECT_EQ(b.axles.steer_limit, d.axles.steer_limit);
    EXPECT_EQ(b.axles.drive_limit, d.axles.drive_limit);
    EXPECT_EQ(b.axles.trailer_limit, d.axles.trailer_limit);
    EXPECT_EQ(b.axles.kingpin_limit, d.axles.kingpin_limit);
    EXPECT_EQ(b.deck.width, d.deck.width);
    EXPECT_EQ(b.deck.start, d.deck.start);
    EXPECT_EQ(b.deck.length, d.deck.length);
    EXPECT_EQ(b.deck.cover, d.deck.cover);
    EXPECT_EQ(b.ramp.at_front, d.ramp.at_front);
    EXPECT_EQ(b.ramp.height, d.ramp.height);
    EXPECT_EQ(b.ramp.length, d.ramp.length);
    EXPECT_EQ(b.ramp.width, d.ramp.width);
    EXPECT_EQ(b.ramp.plank, d.ramp.plank);
    EXPECT_EQ(b.ramp.span, d.ramp.span);
    EXPECT_EQ(b.ramp.above_deck, d.ramp.above_deck);
    EXPECT_EQ(b.ramp.head_on_beam, d.ramp.head_on_beam);
    EXPECT_EQ(b.outriggers.per_side, d.outriggers.per_side);
    EXPECT_EQ(b.outriggers.reach, d.outriggers.reach);
    EXPECT_EQ(b.outriggers.pitch, d.outriggers.pitch);
    EXPECT_EQ(b.outriggers.below_deck, d.outriggers.below_deck);
    EXPECT_EQ(b.boards.thickness, d.boards.thickness);
    EXPECT_EQ(b.boards.bending, d.boards.bending);
    EXPECT_EQ(b.boards.shear, d.boards.shear);
    EXPECT_EQ(b.boards.elasticity, d.boards.elasticity);
    EXPECT_EQ(b.chains.count, d.chains.count);
    EXPECT_EQ(b.chains.limit, d.chains.limit);
}

}  // namespace
}  // namespace loamway
