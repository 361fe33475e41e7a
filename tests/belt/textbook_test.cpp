// SPDX-License-Identifier: Apache-2.0
// Textbook problems (sections A and B of tests/belt/data/belt.json). Numbers of examples, tables and
// equations in Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, are given from memory in that
// file.
#include <gtest/gtest.h>

#include <cmath>
#include <memory>

#include "belt_checks.h"
#include "loamway/belt/bar_heat.h"
#include "slab_series.h"

namespace loamway {
namespace {

using test::number;
using test::Slab;
using test::SlabSeries;

/// A bar that is nothing but a slab: insulated root and flanks, a film at the tip.
struct PlainSlab {
    BeltLoad belt;
    RubberData rubber;
    HeatRegime regime;
};

PlainSlab plain_slab(double k, double rho_c, double height_m, double h, double sink_c, double q = 0.0) {
    PlainSlab out;
    out.belt.bar_height = Length::from_metres(height_m);
    out.belt.bar_thickness = Length::from_metres(0.05);
    out.rubber.k = k;
    out.rubber.rho = 1.0;
    out.rubber.c = rho_c;
    out.rubber.beta = 0.0;
    out.regime.q0 = q;
    out.regime.h_o = h;
    out.regime.t_o = sink_c;
    out.regime.h_f = 1.0;
    return out;
}

BarHeat after(const PlainSlab& s, double start_c, double seconds, BarSolver solver) {
    BarHeat bar(s.belt, s.rubber, Temperature::from_celsius(start_c), solver);
    bar.run(s.regime, Duration::from_seconds(seconds));
    return bar;
}

const Value& row(const char* section, std::string_view start, std::size_t nth = 0) {
    for (const Value& r : test::rows(section))
        if (test::word(r, "name").starts_with(start) && nth-- == 0)
            return r;
    throw std::runtime_error("no such check: " + std::string(start));
}
double in(const Value& r, const char* key) {
    return number(*r.find("inputs"), key);
}
double expected(const Value& r, const char* key) {
    return number(*r.find("expected"), key);
}

// Incropera and DeWitt, Example 3.7: 140, 115 and 105 C (numbering from memory; the arithmetic closes).
TEST(Textbook, wall_with_generation_and_cladding) {
    const Value& r = row("A_textbook", "A1 ");
    const double h = in(r, "h"), flux = in(r, "q") * in(r, "L_A");
    EXPECT_NEAR(in(r, "T_inf") + flux / h, expected(r, "T2"), 1e-9);
    const double film = 1.0 / (in(r, "L_B") / in(r, "k_B") + 1.0 / h);
    const PlainSlab s = plain_slab(in(r, "k_A"), 4e6, in(r, "L_A"), film, in(r, "T_inf"), in(r, "q"));
    const BarHeat bar = after(s, 30, 1e7, {200, Duration::from_seconds(1e4), true});
    const Value& fv = row("A_textbook", "A1b");
    EXPECT_NEAR(bar.cells_c().front(), expected(fv, "fv_cell0"), number(fv, "tol"));
    EXPECT_NEAR(bar.cells_c().front(), expected(r, "T0"), 0.01);
    EXPECT_NEAR(bar.tip().celsius(), expected(r, "T1"), 1e-6);
}

// Incropera and DeWitt, table of the first root of zeta tan zeta = Bi and its constant (numbering from
// memory).
TEST(Textbook, first_roots_of_the_slab) {
    int seen = 0;
    for (const Value& r : test::rows("A_textbook")) {
        if (!test::word(r, "name").starts_with("A2"))
            continue;
        ++seen;
        const SlabSeries series(
            {1, 1, 1, 0, in(r, "Bi")}, [](double) { return 0.0; }, 1.0, 3);
        const double z = series.first_root();
        EXPECT_NEAR(z, expected(r, "zeta1"), number(r, "tol"));
        EXPECT_NEAR(4 * std::sin(z) / (2 * z + std::sin(2 * z)), expected(r, "C1"), number(r, "tol"));
    }
    EXPECT_EQ(seen, 7);
}

// Incropera and DeWitt, the wall of an oil pipe-line, Example 5.4 or 5.5: 42.9 and 45.2 C in the book (from
// memory); 43.02 and 45.36 with a root that is not rounded.
TEST(Textbook, wall_of_a_pipe_line) {
    const Value& r = row("A_textbook", "A3");
    const double L = in(r, "L"), k = in(r, "k"), rho_c = k / in(r, "alpha");
    const double bi = in(r, "h") * L / k, fo = in(r, "alpha") * in(r, "t") / (L * L);
    EXPECT_NEAR(fo, expected(r, "Fo"), 0.002);
    EXPECT_NEAR(bi, expected(r, "Bi"), 0.002);
    const PlainSlab s = plain_slab(k, rho_c, L, in(r, "h"), in(r, "Tinf"));
    const BarHeat bar = after(s, in(r, "Ti"), in(r, "t"), {200, Duration::from_seconds(0.5)});
    EXPECT_NEAR(bar.cells_c().front(), expected(r, "T_mid"), 0.02);
    EXPECT_NEAR(bar.tip().celsius(), expected(r, "T_surf"), 0.02);
    EXPECT_NEAR(bar.cells_c().front(), 42.9, 0.2);
    EXPECT_NEAR(bar.tip().celsius(), 45.2, 0.2);
}

TEST(Textbook, half_slab_with_generation_follows_its_series) {
    int seen = 0;
    for (const Value& r : test::rows("A_textbook")) {
        if (!test::word(r, "name").starts_with("A4 "))
            continue;
        SCOPED_TRACE(to_json(r));
        ++seen;
        const double k = in(r, "k"), L = in(r, "L"), q = in(r, "q"), h = in(r, "h"), t = in(r, "t");
        const double around = in(r, "T0"), tol = number(r, "tol");
        const auto steady = [=](double x) { return around + q * L / h + q * (L * L - x * x) / (2 * k); };
        const SlabSeries series({k, in(r, "rho_c"), L, 0, h}, steady, around);
        EXPECT_NEAR(series.at(0, t), expected(r, "T_core"), tol);
        EXPECT_NEAR(series.at(L, t), expected(r, "T_surf"), tol);
        const PlainSlab s = plain_slab(k, in(r, "rho_c"), L, h, around, q);
        const BarHeat bar = after(s, around, t, {200, Duration::from_seconds(t > 1e5 ? 100 : 2)});
        EXPECT_NEAR(bar.cells_c().front(), expected(r, "CN_cell0"), tol);
        EXPECT_NEAR(bar.cells_c().back(), expected(r, "CN_cellN"), tol);
        EXPECT_NEAR(bar.tip().celsius(), expected(r, "T_surf"), tol);
    }
    EXPECT_EQ(seen, 5);
    const Value& r = row("A_textbook", "A4s");
    const double q = in(r, "q"), L = in(r, "L"), h = in(r, "h"), k = in(r, "k");
    const PlainSlab s = plain_slab(k, 2.034e6, L, h, in(r, "Tinf"), q);
    const BarHeat bar = after(s, 25, 1e8, {200, Duration::from_seconds(1e5), true});
    EXPECT_NEAR(bar.tip().celsius(), expected(r, "Ts"), 1e-4);
    EXPECT_NEAR(bar.cells_c().front(), expected(r, "T0"), 1e-3);
}

TEST(Limits, compound) {
    const Value& r = row("B_limits", "B1");
    const RubberData rubber;
    EXPECT_NEAR(rubber.diffusivity() / expected(r, "alpha"), 1, 1e-12);
    EXPECT_NEAR(rubber.effusivity(), expected(r, "e"), 5e-4);
    const Value& b2 = row("B_limits", "B2");
    EXPECT_NEAR(in(b2, "q") / (rubber.rho * rubber.c) * 60, expected(b2, "K_per_min"), 1e-4);
}

// Two semi-infinite bodies in contact share q = e1 (T1 - T) = e2 (T - T2) (Incropera, eq. 5.63, from memory):
// the same shares that divide the heat of slip between bar and road.
TEST(Limits, contact_of_two_bodies) {
    for (std::size_t i = 0; i < 2; ++i) {
        const Value& r = row("B_limits", "B3", i);
        const double share = in(r, "e1") / (in(r, "e1") + in(r, "e2"));
        EXPECT_NEAR(in(r, "T2") + share * (in(r, "T1") - in(r, "T2")), expected(r, "T_int"), 1e-3);
        // Conductance from both sides in series is that of the two halves: h = e_eff * 2 / sqrt(pi t).
        const double h = contact_conductance(in(r, "e1"), in(r, "e2"), Duration::from_seconds(0.3));
        const double one = in(r, "e1") * 2 / std::sqrt(std::numbers::pi * 0.3);
        EXPECT_NEAR(h * (in(r, "T1") - in(r, "T2")), one * (in(r, "T1") - expected(r, "T_int")), 1.5);
    }
}

TEST(Limits, contact_conductance) {
    for (std::size_t i = 0; i < 3; ++i) {
        const Value& r = row("B_limits", "B4", i);
        const Duration t = Length::from_metres(in(r, "a")) / Speed::from_kmh(in(r, "v_kmh"));
        EXPECT_NEAR(t.seconds(), expected(r, "t_c"), 1e-9);
        const double both = contact_conductance(754.665, 1420, t);
        EXPECT_NEAR(both / expected(r, "h"), 1, 1e-4);
        EXPECT_NEAR(754.665 * 1420 / (754.665 + 1420), in(r, "e_eff"), 1e-3);
    }
}

// Incropera, eq. 5.57 (from memory).
TEST(Limits, step_of_the_surface_temperature) {
    const Value& r = row("B_limits", "B5 ");
    const double depth = in(r, "x"), t = in(r, "t");
    const double exact =
        in(r, "Ts") + (in(r, "Ti") - in(r, "Ts")) * std::erf(depth / (2 * std::sqrt(in(r, "alpha") * t)));
    EXPECT_NEAR(exact, expected(r, "T"), 1e-4);
    const PlainSlab s = plain_slab(0.28, 2.034e6, 0.06, 1e9, in(r, "Ts"));
    const BarHeat bar = after(s, in(r, "Ti"), t, {240, Duration::from_seconds(0.5)});
    const auto cells = bar.cells_c();
    const double between = (cells[219] + cells[220]) / 2;  // 20 cells of 0.25 mm below the tip
    EXPECT_NEAR(between, expected(row("B_limits", "B5b"), "T"), 0.001);
}

TEST(Limits, lumped_body) {
    const Value& r = row("B_limits", "B6");
    const double L = in(r, "L"), h = in(r, "h"), t = in(r, "t");
    EXPECT_NEAR(20 + 60 * std::exp(-h * t / (2.034e6 * L)), expected(r, "lumped"), 1e-3);
    const PlainSlab s = plain_slab(0.28, 2.034e6, L, h, 20);
    const BarHeat bar = after(s, 80, t, {40, Duration::from_seconds(10)});
    EXPECT_NEAR(bar.mean().celsius(), expected(r, "CN_mean"), 0.002);
}

// Square bar in cross flow, after Jakob and Hilpert in Incropera and DeWitt, ch. 7 (from memory).
TEST(Limits, air_film_of_a_square_bar) {
    const Value& r = row("B_limits", "B7");
    const Value::Array& v = *r.find("inputs")->find("v")->as_array();
    const Value::Array& h = *r.find("expected")->find("h")->as_array();
    ASSERT_EQ(v.size(), 4u);
    for (std::size_t i = 0; i < v.size(); ++i) {
        // The speeds are 10, 20, 30 and 40 km/h, listed in m/s to two decimals.
        const Speed speed = Speed::from_kmh(10.0 * static_cast<double>(i + 1));
        EXPECT_NEAR(speed.mps(), v[i].number(), 0.005);
        EXPECT_NEAR(bar_air_film(AirData{}, Length::from_metres(in(r, "D")), speed), h[i].number(), 0.006);
    }
}

}  // namespace
}  // namespace loamway
