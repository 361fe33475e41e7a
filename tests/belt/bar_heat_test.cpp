// SPDX-License-Identifier: Apache-2.0
// The full solver: sections C2, C3, C6, D2, D4 and D6 of tests/belt/data/belt.json, and what must always
// hold.
#include "loamway/belt/bar_heat.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <random>

#include "belt_checks.h"
#include "section_2d.h"
#include "slab_series.h"

namespace loamway {
namespace {

using test::check_machine;
using test::check_model;
using test::driving;
using test::number;
using test::surface_of;
using test::time_for;
using test::word;

constexpr double last_digit = 0.0051;  // of a check printed with two decimals

BarHeat cold_bar(const HeatModel& model, double start, BarSolver solver = {}) {
    return BarHeat(model.belt(), model.parameters().rubber, Temperature::from_celsius(start), solver);
}

TEST(BarHeat, trips_match_their_checks) {
    const Value::Array& list = test::rows("C2_trip_table");
    ASSERT_EQ(list.size(), 72u);
    for (const Value& r : list) {
        SCOPED_TRACE(to_json(r));
        const HeatModel model = check_model(word(r, "machine"));
        const double kmh = number(r, "v_kmh"), air = number(r, "T_air");
        BarHeat bar = cold_bar(model, air);
        double age_min = 0, now_min = 0;
        std::optional<double> to_limit;
        bar.run(model.regime(driving(surface_of(r), kmh, air, number(r, "sun"))),
                time_for(number(r, "km"), kmh), [&](Duration step) {
                    now_min += step.minutes();
                    age_min += thermal_age_rate(bar.core()) * step.minutes();
                    if (!to_limit && bar.core() >= HeatLimits{}.limit)
                        to_limit = now_min;
                });
        EXPECT_NEAR(bar.core().celsius(), number(r, "core_end"), last_digit);
        EXPECT_NEAR(bar.mean().celsius(), number(r, "mean_end"), last_digit);
        EXPECT_NEAR(bar.tip().celsius(), number(r, "tip_end"), last_digit);
        EXPECT_NEAR(bar.flank().celsius(), number(r, "flank_mid_end"), last_digit);
        EXPECT_NEAR(age_min, number(r, "eq110_min"), 0.0006 + 0.0003 * age_min);
        ASSERT_EQ(to_limit.has_value(), !r.find("min_to_limit")->is_null());
        if (to_limit) {
            EXPECT_NEAR(*to_limit, number(r, "min_to_limit"), 0.1);
        }
        const bool hot = bar.core() > HeatLimits{}.caution, over = bar.core() > HeatLimits{}.limit;
        EXPECT_EQ(word(r, "verdict"), over ? "STOP/limit" : hot ? "caution" : "ok");
    }
}

TEST(BarHeat, mixed_trip_matches_its_check) {
    const Value& trip = test::section("C3_mixed_trip");
    const HeatModel model = check_model(word(trip, "machine"));
    const Value::Array& legs = *trip.find("after_each_leg")->as_array();
    BarHeat bar = cold_bar(model, 30);
    std::size_t leg = 0;
    double now = 0, age_min = 0, peak = 0;
    const auto run = [&](RoadSurface s, double kmh, Duration time) {
        bar.run(model.regime(driving(s, kmh, 30)), time, [&](Duration step) {
            now += step.seconds();
            age_min += thermal_age_rate(bar.core()) * step.minutes();
            peak = std::max(peak, bar.core().celsius());
        });
        const Value& r = legs.at(leg++);
        SCOPED_TRACE(to_json(r));
        EXPECT_NEAR(now, number(r, "t_s"), 1e-6);
        EXPECT_NEAR(bar.core().celsius(), number(r, "core"), last_digit);
        EXPECT_NEAR(bar.mean().celsius(), number(r, "mean"), last_digit);
        EXPECT_NEAR(bar.tip().celsius(), number(r, "tip"), last_digit);
        EXPECT_NEAR(bar.flank().celsius(), number(r, "flank"), last_digit);
    };
    for (const Value& s : *trip.find("segments")->as_array()) {
        run(surface_of(s), number(s, "v_kmh"), time_for(number(s, "km"), number(s, "v_kmh")));
        if (number(s, "stop_after_s") > 0)
            run(surface_of(s), 0, Duration::from_seconds(number(s, "stop_after_s")));
    }
    EXPECT_EQ(leg, legs.size());
    EXPECT_NEAR(peak, number(trip, "core_peak"), last_digit);
    EXPECT_NEAR(age_min, number(trip, "eq110_min"), 0.005);
}

TEST(BarHeat, cooling_down_matches_its_checks) {
    const Value::Array& list = test::rows("C6_cooldown_after_60km_asphalt_40kmh_25C");
    ASSERT_EQ(list.size(), 5u);
    const std::map<std::string, Driving> ways{
        {"standing", driving(RoadSurface::asphalt, 0, 25)},
        {"asphalt 10 km/h", driving(RoadSurface::asphalt, 10, 25)},
        {"gravel 10 km/h", driving(RoadSurface::gravel, 10, 25)},
        {"earth 10 km/h", driving(RoadSurface::earth, 10, 25)},
        {"field soil 8 km/h", driving(RoadSurface::field, 8, 25)},
    };
    for (const Value& r : list) {
        SCOPED_TRACE(to_json(r));
        const HeatModel model = check_model(word(r, "machine"));
        BarHeat bar = cold_bar(model, 25);
        bar.run(model.regime(driving(RoadSurface::asphalt, 40, 25)), time_for(60, 40));
        EXPECT_NEAR(bar.core().celsius(), number(r, "start_core"), last_digit);
        const Value::Array& after = *r.find("core_after_10_20_30_60_min")->as_array();
        const double minutes[] = {10, 10, 10, 30};
        for (std::size_t i = 0; i < 4; ++i) {
            bar.run(model.regime(ways.at(word(r, "mode"))), Duration::from_minutes(minutes[i]));
            EXPECT_NEAR(bar.core().celsius(), after[i].number(), last_digit);
        }
    }
}

TEST(BarHeat, creeping_on_asphalt_cools_less_than_standing_and_soil_wins_in_the_end) {
    const HeatModel model = check_model("M");
    BarHeat hot = cold_bar(model, 25);
    hot.run(model.regime(driving(RoadSurface::asphalt, 40, 25)), time_for(60, 40));
    const auto after = [&](RoadSurface s, double kmh, double minutes) {
        BarHeat bar = hot;
        bar.run(model.regime(driving(s, kmh, 25)), Duration::from_minutes(minutes));
        return bar.core();
    };
    EXPECT_LT(after(RoadSurface::asphalt, 0, 10), after(RoadSurface::asphalt, 10, 10));
    EXPECT_LT(after(RoadSurface::asphalt, 0, 10), after(RoadSurface::field, 8, 10));
    EXPECT_GT(after(RoadSurface::asphalt, 0, 30), after(RoadSurface::field, 8, 30));
}

TEST(BarHeat, follows_the_exact_series) {
    const HeatModel model = check_model("M");
    const RubberData rubber;
    const HeatRegime g = model.regime(driving(RoadSurface::asphalt, 40, 25));
    const SteadyBar steady(model.belt(), g, rubber);
    const double height = model.belt().bar_height.metres();
    const double sink = 2 * g.u_f / model.belt().bar_thickness.metres() + rubber.beta * g.q0;
    const test::SlabSeries series(
        {rubber.k, rubber.rho * rubber.c, height, g.u_c, g.h_o, sink},
        [&](double x) { return steady.at(x / height).celsius(); }, 25);
    const Value::Array& list = test::rows("D4_series");
    ASSERT_EQ(list.size(), 20u);
    for (const Value& r : list) {
        SCOPED_TRACE(to_json(r));
        const double t = number(r, "t"), place = number(r, "x_over_H");
        EXPECT_NEAR(series.at(place * height, t), number(r, "T"), 1e-3);
        BarHeat bar = cold_bar(model, 25, {80, Duration::from_seconds(5)});
        bar.run(g, Duration::from_seconds(t));
        if (place == 1.0) {
            EXPECT_NEAR(bar.tip().celsius(), number(r, "T"), 0.01);
        }
        // Every cell's middle against the series; the listed places lie between cells.
        const auto cells = bar.cells_c();
        for (std::size_t i = 0; i < cells.size(); i += 13) {
            const double x = height * (static_cast<double>(i) + 0.5) / static_cast<double>(cells.size());
            EXPECT_NEAR(cells[i], series.at(x, t), 0.01);
        }
    }
}

TEST(BarHeat, lies_above_a_section_in_two_dimensions_as_checked) {
    const Value::Array& list = test::rows("D2_vs_2D_section");
    ASSERT_EQ(list.size(), 3u);
    for (const Value& r : list) {
        const HeatModel model = check_model(word(r, "machine"));
        const Value::Array& legs = *r.find("legs")->as_array();
        const double start = legs[0].as_array()->at(2).number();
        BarHeat bar = cold_bar(model, start, {80, Duration::from_seconds(5)});
        test::Section2d section(model.belt(), RubberData{}, start);
        std::size_t leg = 0;
        double leg_end = legs[0].as_array()->at(3).number(), now = 0;
        for (const Value& point : *r.find("t_2Dmax_1Dcore")->as_array()) {
            SCOPED_TRACE(word(r, "machine") + " " + to_json(point));
            const double t = point.as_array()->at(0).number();
            if (t > leg_end)
                leg_end += legs.at(++leg).as_array()->at(3).number();
            const Value::Array& way = *legs[leg].as_array();
            const HeatRegime g = model.regime(
                driving(*road_surface_named(*way[1].as_string()), way[0].number() * 3.6, way[2].number()));
            bar.run(g, Duration::from_seconds(t - 10 - now));
            section.run(g, t - 10 - now);
            const double core_before = bar.core().celsius(), flat_before = section.hottest();
            bar.run(g, Duration::from_seconds(10));
            section.run(g, 10);
            now = t;
            const double flat = section.hottest(), core = bar.core().celsius();
            BarHeat core_after = bar;
            test::Section2d flat_after = section;
            core_after.run(g, Duration::from_seconds(10));
            flat_after.run(g, 10);
            // The check's two programs worked in whole steps of up to 10 s, so their states are that much
            // older or younger than the times listed.
            const auto expect_between = [](double x, double from, double to, double slack) {
                EXPECT_GT(x, std::min(from, to) - slack);
                EXPECT_LT(x, std::max(from, to) + slack);
            };
            expect_between(point.as_array()->at(2).number(), core_before, core_after.core().celsius(), 0.006);
            expect_between(point.as_array()->at(1).number(), flat_before, flat_after.hottest(), 0.05);
            EXPECT_GT(core - flat, 0.4);
            EXPECT_LT(core - flat, 4.6);
        }
    }
}

TEST(BarHeat, sensitivity_matches_its_checks) {
    const auto core = [](const std::function<void(Machine&, HeatParameters&)>& change) {
        Machine m = check_machine("M");
        HeatParameters p;
        change(m, p);
        const HeatModel model(m, m.states.front(), p);
        BarHeat bar = cold_bar(model, 25);
        bar.run(model.regime(driving(RoadSurface::asphalt, 40, 25)), time_for(45, 40));
        return bar.core().celsius();
    };
    const Value& all = test::section("D6_sensitivity_M_45km_40kmh_25C");
    EXPECT_NEAR(core([](Machine&, HeatParameters&) {}), number(all, "base"), 0.051);
    const auto set = [](Machine& m, HeatParameters& p, const std::string& name, double v) {
        SurfaceHeat& asphalt = p.surfaces[0];
        const std::map<std::string, double*> numbers{{"tan_delta", &p.rubber.tan_delta},
                                                     {"E", &p.rubber.modulus_pa},
                                                     {"kappa", &p.rubber.load_peak},
                                                     {"k", &p.rubber.k},
                                                     {"c", &p.rubber.c},
                                                     {"beta", &p.rubber.beta},
                                                     {"c_flex", &p.rubber.flexing},
                                                     {"fill", &m.belts.fill},
                                                     {"asphalt.eta_c", &asphalt.contact},
                                                     {"asphalt.slip", &asphalt.slip},
                                                     {"asphalt.dT_sun", &asphalt.sun_kelvin},
                                                     {"air.shelter", &p.air.shelter},
                                                     {"air.dT_in", &p.air.inner_kelvin},
                                                     {"air.h_in", &p.air.inner}};
        const std::map<std::string, Length*> lengths{
            {"H", &m.belts.bar_height}, {"b", &m.belts.bar_thickness}, {"lc", &m.belts.contact}};
        if (const auto n = numbers.find(name); n != numbers.end())
            *n->second = v;
        else if (const auto l = lengths.find(name); l != lengths.end())
            *l->second = Length::from_metres(v);
        else if (name == "mass")
            m = check_machine("M", v);
        else
            FAIL() << name;
    };
    const Value::Array& list = *all.find("rows")->as_array();
    ASSERT_EQ(list.size(), 18u);
    for (const Value& r : list)
        for (const auto& [side, result] : {std::pair{"low", "core_low"}, std::pair{"high", "core_high"}})
            EXPECT_NEAR(
                core([&](Machine& m, HeatParameters& p) { set(m, p, word(r, "param"), number(r, side)); }),
                number(r, result), 0.051)
                << to_json(r);
}

TEST(BarHeat, twice_the_cells_and_half_the_step_change_little) {
    const HeatModel model = check_model("M");
    BarHeat coarse = cold_bar(model, 10), fine = cold_bar(model, 10, {80, Duration::from_seconds(5)});
    const double bound = number(test::section("D1_reduced_model_error_K"), "full_N40dt10_vs_N80dt5_max");
    std::mt19937 random(3);
    for (int leg = 0; leg < 30; ++leg) {
        const Driving d = driving(static_cast<RoadSurface>(random() % road_surface_count),
                                  static_cast<double>(random() % 5) * 10, 10);
        const Duration time = Duration::from_seconds(60 + static_cast<double>(random() % 1500));
        coarse.run(model.regime(d), time);
        fine.run(model.regime(d), time);
        EXPECT_NEAR(coarse.core().celsius(), fine.core().celsius(), bound + 0.005);
    }
}

// ---- what must always hold

TEST(BarHeat, core_is_never_below_the_mean) {
    const HeatModel model = check_model("S");
    BarHeat bar = cold_bar(model, 15);
    std::mt19937 random(5);
    for (int leg = 0; leg < 60; ++leg)
        bar.run(model.regime(driving(static_cast<RoadSurface>(random() % road_surface_count),
                                     static_cast<double>(random() % 31), 15)),
                Duration::from_seconds(20 + static_cast<double>(random() % 900)),
                [&](Duration) { EXPECT_GE(bar.core(), bar.mean()); });
}

TEST(BarHeat, without_a_source_it_decays_to_what_surrounds_it) {
    const HeatModel model = check_model("M");
    BarHeat bar = cold_bar(model, 25);
    bar.run(model.regime(driving(RoadSurface::asphalt, 40, 25)), time_for(60, 40));
    const HeatRegime still = model.regime(driving(RoadSurface::asphalt, 0, 25));
    Temperature before = bar.mean();
    bar.run(still, Duration::from_hours(20), [&](Duration) {
        EXPECT_LE(bar.mean(), before + Temperature::from_celsius(1e-9));
        before = bar.mean();
    });
    const SteadyBar end(model.belt(), still, RubberData{});
    // The hottest cell's middle is half a cell away from the root, which is hottest in the closed form.
    EXPECT_NEAR(bar.core().celsius(), end.core().celsius(), 0.1);
    EXPECT_NEAR(bar.tip().celsius(), end.at(1.0).celsius(), 0.001);
    // The sink is between the air outside and the warmer air inside the belt.
    EXPECT_GT(bar.mean().celsius(), 25.0);
    EXPECT_LT(bar.mean().celsius(), 25.0 + AirData{}.inner_kelvin);
}

TEST(BarHeat, equal_sinks_and_no_source_leave_it_alone) {
    const HeatModel model = check_model("L");
    HeatRegime g = model.regime(driving(RoadSurface::gravel, 0, 21));
    g.t_c = g.t_o = g.t_f = 21;
    BarHeat bar = cold_bar(model, 21);
    bar.run(g, Duration::from_hours(3));
    EXPECT_NEAR(bar.core().celsius(), 21, 1e-9);
    EXPECT_NEAR(bar.tip().celsius(), 21, 1e-9);
}

TEST(BarHeat, splitting_a_leg_at_a_step_changes_nothing) {
    const HeatModel model = check_model("M");
    const HeatRegime g = model.regime(driving(RoadSurface::asphalt, 35, 20));
    BarHeat whole = cold_bar(model, 20), split = cold_bar(model, 20);
    whole.run(g, Duration::from_seconds(1000));
    split.run(g, Duration::from_seconds(370));
    split.run(g, Duration::from_seconds(630));
    EXPECT_NEAR(whole.core().celsius(), split.core().celsius(), 1e-10);
    EXPECT_NEAR(whole.tip().celsius(), split.tip().celsius(), 1e-10);
}

TEST(BarHeat, energy_adds_up) {
    const HeatModel model = check_model("M");
    const RubberData rubber;
    const double height = model.belt().bar_height.metres(), thickness = model.belt().bar_thickness.metres();
    for (const bool implicit : {false, true}) {
        BarHeat bar = cold_bar(model, 5, {40, Duration::from_seconds(10), implicit});
        const double dx = height / 40;
        double stored = 5 * height, put_in = 0, moved = 0;
        // Power into the bar per m2 of its section, from what the solver shows of itself.
        const auto power = [&](const HeatRegime& g) {
            const auto cells = bar.cells_c();
            double p = 0;
            for (const double t : cells)
                p += dx * (g.q0 * (1 - rubber.beta * (t - rubber.reference_c)) -
                           2 * g.u_f / thickness * (t - g.t_f));
            p += (g.t_c - cells.front()) / (1 / g.u_c + dx / 2 / rubber.k);
            p += (g.t_o + g.q_tip / g.h_o - cells.back()) / (1 / g.h_o + dx / 2 / rubber.k);
            return p;
        };
        for (const double kmh : {40.0, 0.0, 20.0}) {
            const HeatRegime g = model.regime(driving(RoadSurface::earth, kmh, 30));
            double before = power(g);
            int step_number = 0;
            bar.run(g, Duration::from_seconds(900), [&](Duration step) {
                const double now = power(g);
                const bool backward = implicit || step_number < 2;
                put_in += step.seconds() * (backward ? now : (before + now) / 2);
                moved += step.seconds() * std::abs(now);
                before = now;
                ++step_number;
            });
        }
        double end = 0;
        for (const double t : bar.cells_c())
            end += t * dx;
        EXPECT_NEAR((end - stored) * rubber.rho * rubber.c, put_in, 1e-9 * moved);
    }
}

}  // namespace
}  // namespace loamway
