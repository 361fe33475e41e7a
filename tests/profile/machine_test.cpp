// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/machine.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "documents.h"

namespace loamway {
namespace {

using test::expect_input_error;
using test::replaced;

const std::string least = R"([belts]
count = 2
length_mm = 7000
width_mm = 500
[[state]]
mass_kg = 16000
width_m = 2.7
height_m = 3.4
length_m = 6.0
)";

const std::string two_axles = R"(name = "one"
engine_kw = 300
steering = "rear-wheel"
agricultural = false
phones = ["a", "b"]
[speed_kmh]
top = 30
hard = 28
gravel = 20
earth = 10
[belts]
count = 2
length_mm = 5600
width_mm = 600
[[state]]
name = "bare"
mass_kg = 20000
axle_kg = [14000, 5500]
tracked = [true, false]
width_m = 3.4
height_m = 3.9
length_m = 9.0
[[state]]
name = "towing"
mass_kg = 20000
axle_kg = [9000, 11000]
tracked = [true, false]
width_m = 3.5
height_m = 3.9
length_m = 9.0
towed_kg = 4000
towed_length_m = 8.0
)";

Machine read(const std::string& text) {
    return read_machine(parse_toml(text, "doc.toml"), "doc.toml");
}

TEST(Machine, needs_only_belts_and_one_state) {
    const Machine m = read(least);
    EXPECT_EQ(m.name, "doc");
    EXPECT_TRUE(m.agricultural);
    EXPECT_EQ(m.steering, Steering::differential);
    EXPECT_DOUBLE_EQ(m.engine.kw(), 240);  // 15 kW a tonne
    EXPECT_DOUBLE_EQ(m.top.kmh(), 40);
    EXPECT_DOUBLE_EQ(m.speed_on(SurfaceClass::hard).kmh(), 40);
    EXPECT_DOUBLE_EQ(m.speed_on(SurfaceClass::gravel).kmh(), 30);
    EXPECT_DOUBLE_EQ(m.speed_on(SurfaceClass::earth).kmh(), 15);
    EXPECT_DOUBLE_EQ(m.belts.bar_height.mm(), 55);
    EXPECT_DOUBLE_EQ(m.belts.bar_thickness.mm(), 55);
    EXPECT_DOUBLE_EQ(m.belts.worn_height.mm(), 0.27 * 55);
    EXPECT_DOUBLE_EQ(m.belts.carcass.mm(), 30);
    EXPECT_DOUBLE_EQ(m.belts.ground_run.mm(), 0.28 * 7000);
    EXPECT_DOUBLE_EQ(m.belts.fill, 0.35);
    EXPECT_EQ(m.belts.mid_rollers, 4);
    EXPECT_DOUBLE_EQ(m.belts.contact.mm(), 150);
    ASSERT_EQ(m.states.size(), 1u);
    EXPECT_EQ(m.states[0].name, "bare");
    EXPECT_DOUBLE_EQ(m.states[0].heaviest_track_axle().kg(), 16000);
}

TEST(Machine, says_which_keys_were_left_out) {
    EXPECT_THAT(read(least).assumed, testing::IsSupersetOf({"name", "engine_kw", "agricultural", "steering",
                                                            "speed_kmh.top", "speed_kmh.gravel", "belts.fill",
                                                            "belts.bar_mm", "belts.contact_mm"}));
    const Machine m = read(replaced(least, "count = 2", "count = 2\nfill = 0.35"));
    EXPECT_THAT(m.assumed, testing::Not(testing::Contains("belts.fill")));
    EXPECT_THAT(read(two_axles).assumed, testing::Not(testing::Contains("engine_kw")));
}

// All of it assumption: what nobody measured for a deck or a ramp follows from the other keys.
TEST(Machine, loading_keys_follow_from_the_others) {
    const Machine m = read(least);
    const WorkingState& s = m.states.front();
    EXPECT_DOUBLE_EQ((m.belts.gauge + m.belts.width).metres(), s.width.metres());
    EXPECT_DOUBLE_EQ(m.wheelbase.metres(), 0);
    EXPECT_DOUBLE_EQ(m.ground_clearance.metres(), 0.35);
    EXPECT_DOUBLE_EQ(m.standing_length(s).metres(), 1.96);
    EXPECT_DOUBLE_EQ(s.centre_behind.metres(), 0.98);
    EXPECT_DOUBLE_EQ(s.centre_height.metres(), 0.4 * s.height.metres());
    EXPECT_DOUBLE_EQ(s.front_overhang.metres(), (s.length.metres() - 1.96) / 2);
    EXPECT_DOUBLE_EQ(s.front_clearance.metres(), 0.35);
    EXPECT_THAT(
        m.assumed_for_loading,
        testing::ElementsAre("belts.gauge_mm", "loading.ground_clearance_m", "state[1].centre_height_m",
                             "state[1].centre_behind_m", "state[1].front_overhang_m"));
}

TEST(Machine, several_axles_place_the_centre_of_mass_by_their_loads) {
    const Machine m = read(replaced(two_axles, "[belts]", "[loading]\nwheelbase_m = 4\n[belts]"));
    const WorkingState& s = m.states.front();
    const double first = m.belts.ground_run.metres() / 2;  // its belts stand on the ground around the axle
    EXPECT_DOUBLE_EQ(s.centre_behind.metres(), first + 4 * (s.axles[1] / (s.axles[0] + s.axles[1])));
    EXPECT_DOUBLE_EQ(m.standing_length(s).metres(), 4 + first);  // wheels touch in a point
    EXPECT_THAT(m.assumed_for_loading, testing::Not(testing::Contains("loading.wheelbase_m")));
}

TEST(Machine, loading_keys_that_cannot_be) {
    expect_input_error(
        [] { (void)read(replaced(least, "width_mm = 500", "width_mm = 500\ngauge_mm = 450")); }, 5,
        "do not fit side by side");
    expect_input_error([] { (void)read(std::string(least) + "centre_behind_m = 3\n"); }, 10,
                       "is off the 1.96 m");
    expect_input_error([] { (void)read(std::string("[loading]\nwheelbase_m = 3\n") + least); }, 7,
                       "only one axle");
}

TEST(Machine, defaults_never_pass_the_top_speed) {
    const Machine m = read(replaced(least, "[belts]", "[speed_kmh]\ntop = 12\n[belts]"));
    EXPECT_DOUBLE_EQ(m.hard.kmh(), 12);
    EXPECT_DOUBLE_EQ(m.gravel.kmh(), 12);
    EXPECT_DOUBLE_EQ(m.earth.kmh(), 12);
}

TEST(Machine, reads_what_is_given) {
    const Machine m = read(two_axles);
    EXPECT_EQ(m.name, "one");
    EXPECT_EQ(m.file, "doc.toml");
    EXPECT_FALSE(m.agricultural);
    EXPECT_EQ(m.steering, Steering::rear_wheel);
    EXPECT_THAT(m.phones, testing::ElementsAre("a", "b"));
    EXPECT_DOUBLE_EQ(m.hard.kmh(), 28);
    EXPECT_DOUBLE_EQ(m.earth.kmh(), 10);
    ASSERT_EQ(m.states.size(), 2u);
    EXPECT_THAT(m.states[1].tracked, testing::ElementsAre(true, false));
    EXPECT_DOUBLE_EQ(m.states[1].combination_mass().kg(), 24000);
    EXPECT_DOUBLE_EQ(m.states[1].combination_length().metres(), 17);
}

TEST(Machine, wheels_do_not_decide_the_heaviest_track_axle) {
    // In the second state the wheel axle carries more than the belts.
    EXPECT_DOUBLE_EQ(read(two_axles).states[1].heaviest_track_axle().kg(), 9000);
}

TEST(Machine, four_belts_share_the_mass_on_two_axles) {
    const Machine m = read(replaced(least, "count = 2", "count = 4"));
    EXPECT_THAT(m.states[0].axles, testing::SizeIs(2));
    EXPECT_DOUBLE_EQ(m.states[0].heaviest_track_axle().kg(), 8000);
}

TEST(Machine, road_rules_see_the_whole_combination) {
    const Machine m = read(two_axles);
    const VehicleView v = m.vehicle(m.state("towing"));
    EXPECT_EQ(v.kind, VehicleKind::machine);
    EXPECT_FALSE(v.agricultural);
    EXPECT_DOUBLE_EQ(v.mass.kg(), 24000);
    EXPECT_DOUBLE_EQ(v.axle.kg(), 9000);
    EXPECT_DOUBLE_EQ(v.width.metres(), 3.5);
    EXPECT_DOUBLE_EQ(v.height.metres(), 3.9);
    EXPECT_DOUBLE_EQ(v.length.metres(), 17);
    EXPECT_DOUBLE_EQ(v.top_speed.kmh(), 30);
}

TEST(Machine, an_unknown_state_is_answered_with_the_known_ones) {
    const Machine m = read(two_axles);
    try {
        (void)m.state("towin");
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        EXPECT_THAT(e.what(), testing::HasSubstr("did you mean \"towing\""));
        EXPECT_THAT(e.what(), testing::HasSubstr("bare, towing"));
    }
}

TEST(MachineErrors, name_the_line_and_the_range) {
    const auto wrong = [](std::string_view from, std::string_view to, int line, std::string_view words) {
        expect_input_error([&] { (void)read(replaced(two_axles, from, to)); }, line, words);
    };
    wrong("mass_kg = 20000", "mass_kg = -20000", 17, "mass_kg");
    wrong("height_m = 3.9", "height_m = 0", 21, "height_m");
    wrong("count = 2", "count = 3", 12, "3 belts cannot stand in pairs");
    wrong("count = 2", "count = 2.5", 12, "count");
    wrong("hard = 28", "hard = 31", 8, "above the top speed of 30 km/h");
    wrong("engine_kw = 300", "engine_kw = \"300\"", 2, "engine_kw");
    wrong("steering = \"rear-wheel\"", "steering = \"rear wheel\"", 3, "rear-wheel");
    wrong("width_mm = 600", "width_mm = 600\nworn_mm = 55", 15, "not lower than new ones");
    wrong("width_mm = 600", "width_mm = 600\nground_run_mm = 2800", 15, "does not fit a belt of 5600 mm");
    wrong("name = \"towing\"", "name = \"bare\"", 24, "two working states are called \"bare\"");
}

TEST(MachineErrors, unknown_keys_name_the_nearest_known_one) {
    expect_input_error([] { (void)read(replaced(two_axles, "engine_kw", "engine_kv")); }, 2, "engine_kw");
    expect_input_error([] { (void)read(replaced(two_axles, "length_mm", "lenght_mm")); }, 11, "length_mm");
    expect_input_error([] { (void)read(replaced(two_axles, "towed_kg", "towedkg")); }, 23, "towed_kg");
}

TEST(MachineErrors, essential_keys_are_asked_for) {
    for (const std::string_view key :
         {"mass_kg", "width_m ", "height_m", "length_m ", "count", "length_mm", "width_mm"}) {
        const std::string commented = "# " + std::string(key);
        const std::string name(key.substr(0, key.find(' ')));
        try {
            (void)read(replaced(least, key, commented));
            ADD_FAILURE() << name << " may be left out";
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::input);
            EXPECT_THAT(e.what(), testing::HasSubstr(name));
            EXPECT_TRUE(e.place().line.has_value());
        }
    }
    EXPECT_THROW((void)read("[[state]]\nmass_kg = 1000\nwidth_m = 2\nheight_m = 2\nlength_m = 3\n"), Error);
    EXPECT_THROW((void)read("[belts]\ncount = 2\nlength_mm = 5000\nwidth_mm = 400\n"), Error);
}

TEST(MachineErrors, axle_loads_must_add_up) {
    // 19.5 t of 20 t is within 5 %, 18.9 t is not.
    EXPECT_NO_THROW((void)read(two_axles));
    expect_input_error([] { (void)read(replaced(two_axles, "14000, 5500", "14000, 4900")); }, 18,
                       "add up to 18900 kg, the mass is 20000 kg");
    expect_input_error([] { (void)read(replaced(two_axles, "14000, 5500", "15600, 5500")); }, 18,
                       "add up to 21100");
}

TEST(MachineErrors, belts_and_track_axles_must_agree) {
    expect_input_error([] { (void)read(replaced(two_axles, "tracked = [true, false]\n", "")); }, 18,
                       "2 belts mean 1 track axle, not 2");
    expect_input_error([] { (void)read(replaced(two_axles, "[true, false]", "[false, false]")); }, 19,
                       "not 0");
    expect_input_error([] { (void)read(replaced(two_axles, "[true, false]", "[true]")); }, 19,
                       "2 times true or false");
    expect_input_error([] { (void)read(replaced(two_axles, "[true, false]", "[1, 0]")); }, 19,
                       "2 times true or false");
}

TEST(MachineErrors, towed_mass_and_length_come_together) {
    expect_input_error([] { (void)read(replaced(two_axles, "towed_kg = 4000\n", "")); }, 23, "towed_kg");
    expect_input_error([] { (void)read(replaced(two_axles, "towed_length_m = 8.0\n", "")); }, 23,
                       "towed_length_m");
}

TEST(BeltsNow, ask_for_powder_before_the_start) {
    BeltsNow b;
    EXPECT_FALSE(b.needs_start_lube());
    b.hours = 99.9;
    EXPECT_TRUE(b.needs_start_lube());
    b.hours = 100;
    EXPECT_FALSE(b.needs_start_lube());
    b.condition = BeltsNow::Condition::washed;
    EXPECT_TRUE(b.needs_start_lube());
    b.condition = BeltsNow::Condition::not_run_in;
    EXPECT_TRUE(b.needs_start_lube());
}

TEST(Names, are_the_words_of_the_documents) {
    EXPECT_EQ(name_of(Steering::rear_wheel), "rear-wheel");
    EXPECT_EQ(name_of(Ground::frozen), "frozen");
    EXPECT_EQ(name_of(BeltsNow::Condition::not_run_in), "new");
    EXPECT_EQ(name_of(BeltsNow::Condition::run_in), "run-in");
}

}  // namespace
}  // namespace loamway
