// SPDX-License-Identifier: Apache-2.0
// Figures of the haulage model (haul.json): elementary geometry and statics, worked independently.
#include "loamway/haul/loading_geometry.h"

#include <gtest/gtest.h>

#include "checks.h"

namespace loamway {
namespace {

using test::check;
using test::number;

constexpr double near_enough = 1e-7;

Length m(double v) {
    return Length::from_metres(v);
}
Angle degrees(double v) {
    return Angle::from_degrees(v);
}

TEST(LoadingGeometry, across_the_deck) {
    struct Row {
        const char* key;
        double gauge, belt, deck;
    };
    for (const Row& r : {Row{"gauge2.24_b0.635_deck2.55", 2.24, 0.635, 2.55},
                         Row{"gauge3.05_b0.457_deck2.55", 3.05, 0.457, 2.55},
                         Row{"gauge1.9_b0.45_deck2.59", 1.9, 0.45, 2.59}}) {
        SCOPED_TRACE(r.key);
        const std::string at = std::string("loading|lateral_") + r.key + "|";
        const Across a = across_deck(m(r.gauge), m(r.belt), m(r.deck));
        EXPECT_NEAR(a.outer_width.metres(), number(at + "outer_width"), near_enough);
        EXPECT_NEAR(a.overhang.metres(), number(at + "overhang_per_side"), near_enough);
        EXPECT_NEAR(a.share_on_deck, number(at + "belt_fraction_on_deck"), near_enough);
        EXPECT_EQ(a.outriggers, *check(at + "outriggers_needed").as_bool());
        EXPECT_NEAR(a.extension.metres(), number(at + "extension_per_side"), near_enough);
        EXPECT_NEAR(a.centre_from_edge.metres(), number(at + "belt_centre_from_deck_edge"), near_enough);
        EXPECT_EQ(a.centre_off_deck(), *check(at + "belt_centre_beyond_deck").as_bool());
    }
}

TEST(LoadingGeometry, outrigger_counts) {
    for (const auto& [key, count] : check("loading|outriggers_Lc2.6").as_object()[0]) {
        const double pitch = std::stod(key.substr(key.find('=') + 1));
        EXPECT_EQ(outriggers_per_side(m(2.6), m(pitch)), static_cast<int>(count.number())) << key;
    }
}

TEST(LoadingGeometry, ramps) {
    for (const char* a : {"8", "10", "12", "15"}) {
        const std::string at = std::string("loading|ramp_H0.9|alpha=") + a + "|";
        EXPECT_NEAR(ramp_length(m(0.9), m(0.01), degrees(std::stod(a))).metres(), number(at + "slope_len"),
                    near_enough);
        EXPECT_NEAR(ramp_run(m(0.9), m(0.01), degrees(std::stod(a))).metres(), number(at + "run"),
                    near_enough);
        // Rise over run, with the rise that the ramp head has above the deck.
        EXPECT_NEAR(100 * 0.91 / ramp_run(m(0.9), m(0.01), degrees(std::stod(a))).metres(),
                    number(at + "grade_pct"), 1e-6);
        EXPECT_NEAR(friction_needed(degrees(std::stod(a))), number(std::string("loading|mu_needed|") + a),
                    near_enough);
    }
    EXPECT_NEAR(ramp_length(m(0.55), m(0.01), degrees(12)).metres(),
                number("loading|ramp_H0.55_alpha12|slope_len"), near_enough);
    EXPECT_NEAR(ramp_run(m(0.55), m(0.01), degrees(12)).metres(), number("loading|ramp_H0.55_alpha12|run"),
                near_enough);
    EXPECT_NEAR(ramp_angle(m(0.9), m(0.01), m(4)).degrees(), number("loading|alpha_for_H0.9_L4.0"),
                near_enough);
    EXPECT_NEAR(friction_needed(steepest(0.3)), 0.3, 1e-12);
    EXPECT_GT(steepest(0.3).degrees(), 12);
    EXPECT_LT(steepest(0.3).degrees(), 15);
}

TEST(LoadingGeometry, see_saw_at_the_ramp_top) {
    const Mass mass = Mass::from_tonnes(18);
    for (const char* a : {"12", "15"}) {
        const std::string at = std::string("loading|seesaw_") + a + "deg_hc1.3|";
        const SeeSaw s = see_saw(mass, m(1.3), m(1.2), m(1.4), degrees(std::stod(a)));
        EXPECT_NEAR(s.past_edge.metres(), number(at + "foot_past_edge_at_tip"), near_enough);
        EXPECT_NEAR(s.belt_beyond.metres(), number(at + "belt_beyond_edge"), near_enough);
        EXPECT_NEAR(s.front_drop.metres(), number(at + "front_drop"), near_enough);
        EXPECT_NEAR(s.rear_lift.metres(), number(at + "rear_lift_after"), near_enough);
        EXPECT_EQ(s.stays_on_ramp, *check(at + "backward_stability_ok").as_bool());
        EXPECT_NEAR(1.4 - s.past_edge.metres(), number(at + "slope_stability_margin_m"), near_enough);
        const double most = number(at + "max_static_alpha_deg");
        EXPECT_TRUE(see_saw(mass, m(1.3), m(1.2), m(1.4), degrees(most - 0.001)).stays_on_ramp);
        EXPECT_FALSE(see_saw(mass, m(1.3), m(1.2), m(1.4), degrees(most + 0.001)).stays_on_ramp);
        EXPECT_NEAR(s.edge_force.newtons(), number("loading|seesaw_edge_force_per_side_kd1.25_N"), 1e-6);
    }
    EXPECT_NEAR(see_saw(mass, m(1.3), m(1.2), m(1.4), degrees(12)).energy.kilojoules(),
                number("loading|seesaw_energy_kJ_18t_12deg_hc1.3"), near_enough);
    EXPECT_FALSE(see_saw(mass, m(3), m(1), m(0.6), degrees(15)).stays_on_ramp);
}

TEST(LoadingGeometry, two_axle_groups_over_the_edge) {
    EXPECT_NEAR(break_over_clearance(m(3.9), degrees(12)).metres(),
                number("loading|breakover_two_axle_units|wb3.9,12deg"), near_enough);
    EXPECT_NEAR(break_over_clearance(m(2.9), degrees(15)).metres(),
                number("loading|breakover_two_axle_units|wb2.9,15deg"), near_enough);
    EXPECT_NEAR(approach_angle(m(0.35), m(1.1)).degrees(), number("loading|approach_h.35_o1.1_alpha12|angle"),
                near_enough);
    EXPECT_DOUBLE_EQ(approach_angle(m(0.35), Length()).degrees(), 90);
}

TEST(LoadingGeometry, planks) {
    const Force roller = roller_force(Mass::from_tonnes(18), 5);
    EXPECT_NEAR(roller.newtons(), number("loading|roller_force_18t_5rollers_kd1.25_N"), 1e-6);
    const auto expect = [](const PlankLoad& l, const std::string& at) {
        EXPECT_NEAR(l.moment_nm, number(at + "|M_Nm"), 1e-6);
        EXPECT_NEAR(l.bending.megapascals(), number(at + "|sigma_MPa"), near_enough);
        EXPECT_NEAR(l.shear.megapascals(), number(at + "|tau_MPa"), near_enough);
        EXPECT_NEAR(l.deflection.mm(), number(at + "|defl_mm"), near_enough);
    };
    expect(plank_load({m(0.5), m(0.6), m(0.075)}, roller), "loading|ramp_plank_roller|span.5");
    const Force over = Force::from_newtons(number("loading|board_on_outriggers|F_over_N"));
    EXPECT_NEAR((roller * 0.8).newtons(), over.newtons(), 1e-6);
    expect(plank_load({m(0.6), m(0.51), m(0.07)}, over), "loading|board_on_outriggers|case");
}

// Bending alone decides in these rows: the shear allowed is set high. Shear decides for a short span.
TEST(LoadingGeometry, plank_thickness_for_12_megapascals) {
    const Stress twelve = Stress::from_megapascals(12), no_shear = Stress::from_megapascals(100);
    const Force roller = roller_force(Mass::from_tonnes(18), 5);
    EXPECT_NEAR(plank_thickness(m(0.5), m(0.6), roller, twelve, no_shear).metres(),
                number("loading|ramp_plank_roller|t_req_span.5_fb12"), near_enough);
    const Force edge = Force::from_newtons(number("loading|seesaw_edge_force_per_side_kd1.25_N"));
    EXPECT_NEAR(plank_thickness(m(0.5), m(0.6), edge, twelve, no_shear).metres(),
                number("loading|ramp_plank_roller|t_req_span.5_fb12_edge"), near_enough);
    EXPECT_NEAR(plank_thickness(m(0.6), m(0.51), roller * 0.8, twelve, no_shear).metres(),
                number("loading|board_on_outriggers|t_req_fb12"), near_enough);
    const Length t = plank_thickness(m(0.1), m(0.6), edge, twelve, Stress::from_megapascals(1.2));
    EXPECT_NEAR(plank_load({m(0.1), m(0.6), t}, edge).shear.megapascals(), 1.2, 1e-9);
}

}  // namespace
}  // namespace loamway
