// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <algorithm>

#include "documents.h"
#include "loamway/profile/machine.h"

namespace loamway {
namespace {

using test::expect_input_error;

LowBed read(const std::string& text) {
    return read_low_bed(parse_toml(text, "doc.toml"), "doc.toml");
}

WorkingState machine_of(double tonnes, double width_m, double height_m) {
    WorkingState s;
    s.mass = Mass::from_tonnes(tonnes);
    s.towed = Mass::from_tonnes(5);
    s.width = Length::from_metres(width_m);
    s.height = Length::from_metres(height_m);
    s.length = Length::from_metres(7);
    return s;
}

TEST(LowBed, an_empty_document_is_the_assumed_one_but_named) {
    const LowBed b = read("");
    EXPECT_FALSE(b.assumed);
    EXPECT_TRUE(LowBed{}.assumed);
    EXPECT_DOUBLE_EQ(b.empty_mass.kg(), LowBed{}.empty_mass.kg());
    EXPECT_DOUBLE_EQ(b.empty_run.km(), 20);
}

TEST(LowBed, reads_every_key) {
    const LowBed b = read(R"(name = "x"
empty_kg = 15000
max_load_kg = 40000
axle_limit_kg = 11500
length_m = 18
width_m = 2.6
height_m = 3.8
deck_height_m = 0.55
base = "yard"
[speed_kmh]
empty = 70
loaded = 50
)");
    EXPECT_EQ(b.name, "x");
    EXPECT_DOUBLE_EQ(b.empty_mass.kg(), 15000);
    EXPECT_DOUBLE_EQ(b.max_load.kg(), 40000);
    EXPECT_DOUBLE_EQ(b.axle_limit.kg(), 11500);
    EXPECT_DOUBLE_EQ(b.length.metres(), 18);
    EXPECT_DOUBLE_EQ(b.width.metres(), 2.6);
    EXPECT_DOUBLE_EQ(b.height_empty.metres(), 3.8);
    EXPECT_DOUBLE_EQ(b.deck_height.metres(), 0.55);
    EXPECT_EQ(b.base, "yard");
    EXPECT_DOUBLE_EQ(b.empty_speed.kmh(), 70);
    EXPECT_DOUBLE_EQ(b.loaded_speed.kmh(), 50);
}

TEST(LowBed, faults_are_placed) {
    expect_input_error([] { (void)read("\nempty_kg = -1\n"); }, 2, "empty_kg");
    expect_input_error([] { (void)read("deck_hight_m = 1\n"); }, 1, "deck_height_m");
    expect_input_error([] { (void)read("base = \"yard\"\nempty_run_km = 3\n"); }, 2,
                       "both base and empty_run_km");
    expect_input_error([] { (void)read("[speed_kmh]\nfull = 3\n"); }, 2, "full");
}

TEST(LowBed, reads_axles_deck_ramp_and_supports) {
    const LowBed b = read(R"(empty_kg = 20000
deck_height_m = 0.55
width_m = 2.6
[axles]
steer_kg = 6000
drive_kg = 5000
trailer_count = 2
[ramp]
at = "front"
length_m = 2.7
[outriggers]
per_side = 0
[chains]
count = 6
limit_kg = 3000
)");
    EXPECT_DOUBLE_EQ(b.axles.trailer.kg(), 9000);
    EXPECT_EQ(b.axles.trailer_axles, 2);
    EXPECT_DOUBLE_EQ(b.deck.width.metres(), 2.6);  // as wide as the low-bed
    EXPECT_TRUE(b.ramp.at_front);
    EXPECT_DOUBLE_EQ(b.ramp.height.metres(), 0.55);  // up to the deck
    EXPECT_EQ(b.outriggers.per_side, 0);
    EXPECT_EQ(b.chains.count, 6);
    const auto said = [&b](const char* key) {
        return std::find(b.assumed_keys.begin(), b.assumed_keys.end(), key) == b.assumed_keys.end();
    };
    EXPECT_TRUE(said("axles.steer_kg"));
    EXPECT_FALSE(said("axles.wheelbase_m"));
    EXPECT_FALSE(said("deck.width_m"));
}

TEST(LowBed, another_empty_mass_is_shared_out_alike) {
    const LowBed b = read("empty_kg = 9250\n");
    EXPECT_DOUBLE_EQ(b.axles.steer.kg(), 2600);
    EXPECT_DOUBLE_EQ(b.axles.trailer.kg(), 4650);
}

TEST(LowBed, what_cannot_stand_or_reach_is_a_fault) {
    expect_input_error([] { (void)read("empty_kg = 9000\n[axles]\nsteer_kg = 5000\ndrive_kg = 4000\n"); }, 1,
                       "leaves 0 kg for the trailer");
    expect_input_error([] { (void)read("[ramp]\nlength_m = 0.5\n"); }, 2,
                       "does not reach an edge 0.9 m high");
    expect_input_error([] { (void)read("[axles]\ntrailer_centre_m = 12\n"); }, 2, "lift the truck");
    expect_input_error([] { (void)read("[deck]\nwidht_m = 2\n"); }, 2, "width_m");
}

TEST(LowBed, empty_it_is_a_truck) {
    const LowBed b;
    const VehicleView v = b.vehicle_empty();
    EXPECT_EQ(v.kind, VehicleKind::truck);
    EXPECT_FALSE(v.agricultural);
    EXPECT_DOUBLE_EQ(v.mass.kg(), 18500);
    EXPECT_DOUBLE_EQ(v.axle.kg(), 7400);
    EXPECT_DOUBLE_EQ(v.height.metres(), 3.6);
    EXPECT_DOUBLE_EQ(v.top_speed.kmh(), 65);
}

TEST(LowBed, loaded_it_is_as_wide_and_high_as_what_stands_on_it) {
    const LowBed b;
    const VehicleView v = b.vehicle_loaded(machine_of(15, 3.0, 3.4));
    EXPECT_DOUBLE_EQ(v.width.metres(), 3.0);
    EXPECT_DOUBLE_EQ(v.height.metres(), 4.3);
    EXPECT_DOUBLE_EQ(v.length.metres(), 16.5);
    EXPECT_DOUBLE_EQ(v.mass.kg(), 33500);  // what is towed does not ride along
    EXPECT_DOUBLE_EQ(v.axle.kg(), 8700);   // half way from 7.4 t to 10 t
    EXPECT_DOUBLE_EQ(v.top_speed.kmh(), 55);
}

TEST(LowBed, a_small_load_leaves_the_trucks_own_size) {
    const VehicleView v = LowBed{}.vehicle_loaded(machine_of(3, 1.8, 2.0));
    EXPECT_DOUBLE_EQ(v.width.metres(), 2.55);
    EXPECT_DOUBLE_EQ(v.height.metres(), 3.6);
}

}  // namespace
}  // namespace loamway
