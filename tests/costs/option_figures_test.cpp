// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/option_figures.h"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "drive_or_haul.h"
#include "loamway/base/error.h"
#include "loamway/costs/random.h"

namespace loamway {
namespace {

using test::check;
using test::CheckDefaults;
using test::number;

std::vector<double> modes(const std::vector<Spread>& spreads) {
    std::vector<double> out;
    for (const Spread& s : spreads)
        out.push_back(s.mode);
    return out;
}
double& at(std::vector<double>& draw, MoveInput i) {
    return draw[static_cast<std::size_t>(i)];
}

// 42 km of the worked example, its wear told apart by ground, with an upper line of fuel.
DrivenFigures driven(const CheckDefaults& c) {
    DrivenFigures d;
    d.drive = test::drive_of(c, 24, 12, 6);
    d.wear.paved = 24 * c.wear_hard;
    d.wear.soft = d.drive.wear_share - d.wear.paved;
    d.wear.assumed_soft = d.drive.wear_share * 0.8;
    d.wear.assumed_paved = d.drive.wear_share * 1.3;
    d.wear.cooler = d.drive.wear_share * 0.9;
    d.wear.hotter = d.drive.wear_share * 1.2;
    d.fuel_upper = d.drive.fuel * 1.5;
    return d;
}

TEST(OptionFigures, everything_at_its_mode_costs_what_was_estimated) {
    const CheckDefaults c = test::check_defaults();
    OptionFigures f;
    f.driven = {driven(c), driven(c)};
    f.hauled = {{test::haul_of(c, 20, 40, 20), {}, 0, {}, {}}};
    const std::vector<double> draw = modes(move_spreads(0.6));
    const double cost = drawn_cost(f, drawn_rates(c.rates, draw), draw).units();
    EXPECT_NEAR(cost, option_parts(f, c.rates).total().units(), 1e-9);
    const double worked = 2 * number(check("economics.drive_24_12_6"), "total") +
                          number(check("economics.haul_20_40_20"), "total");
    EXPECT_NEAR(cost, worked, 1e-6);
}

// The same draws, by the same generator, as in the check's own model of a move: 40 km, 20 km empty each way.
TEST(OptionFigures, trials_agree_with_the_check) {
    const std::vector<Spread> assumed = assumed_spreads();
    const std::vector<Spread> spreads = move_spreads(0.6);
    const CheckDefaults c = test::check_defaults();
    OptionFigures drive, haul;
    DrivenFigures d;
    d.drive = test::drive_of(c, 24, 12, 4);
    d.wear.paved = 24 * c.wear_hard;
    d.wear.soft = 12 * c.wear_gravel;
    const double earth = d.drive.wear_share - d.wear.paved - d.wear.soft;
    drive.driven = {d};
    haul.hauled = {{test::haul_of(c, 20, 40, 20), {}, 0, {}, {}}};
    SplitMix64 random(20250101);
    for (int t = 0; t < 200; ++t) {
        std::vector<double> check_draw;
        for (const Spread& s : assumed)
            check_draw.push_back(Quantiles(s).at(random.uniform()));
        std::vector<double> draw = modes(spreads);
        const auto take = [&](MoveInput to, std::string_view from) {
            at(draw, to) = check_draw[spread_index(assumed, from)];
        };
        take(MoveInput::wage, "wage");
        take(MoveInput::fuel_price, "fuel_price");
        take(MoveInput::belt_price, "belt_price");
        take(MoveInput::wear_paved, "w_hard");
        take(MoveInput::wear_soft, "w_gravel");
        take(MoveInput::machine_hour, "own_h");
        take(MoveInput::stop_time, "t_stop");
        take(MoveInput::driving_speed, "v");
        take(MoveInput::truck_hour, "tr_h");
        take(MoveInput::truck_km, "tr_km");
        take(MoveInput::loading_time, "t_load");
        take(MoveInput::permit, "permit");
        take(MoveInput::truck_speed, "v_load");
        take(MoveInput::empty_runs, "dead");
        const test::MoveOfLength m = test::multiplied(assumed, check_draw);
        const Rates rates = drawn_rates(c.rates, draw);
        // The check burns fuel by the hour and draws no wear on earth and no time to unload: both sides of
        // that are known.
        const double v = at(draw, MoveInput::driving_speed);
        const Money fuel = rates.fuel_per_l * (1 + rates.oil_share) * d.drive.fuel.litres() * (1 / v - 1);
        const Money belts = (rates.belt_set + rates.belt_fitting) * earth;
        EXPECT_NEAR((drawn_cost(drive, rates, draw) + fuel + belts).units(),
                    m.drive(Length::from_km(40)).units(), 1e-6);
        Rates as_checked = rates;
        as_checked.unload_time = c.rates.unload_time;
        EXPECT_NEAR(drawn_cost(haul, as_checked, draw).units(), m.haul(Length::from_km(40)).units(), 1e-6);
    }
}

TEST(OptionFigures, bands_reach_their_ends) {
    const CheckDefaults c = test::check_defaults();
    OptionFigures f;
    f.driven = {driven(c)};
    const double set = (c.rates.belt_set + c.rates.belt_fitting).units();
    const double share = f.driven[0].drive.wear_share;
    const std::vector<Spread> spreads = move_spreads(0.6);
    const auto more = [&](MoveInput i, double x) {
        std::vector<double> draw = modes(spreads);
        const double plain = drawn_cost(f, c.rates, draw).units();
        at(draw, i) = x;
        return drawn_cost(f, drawn_rates(c.rates, draw), draw).units() - plain;
    };
    EXPECT_NEAR(more(MoveInput::assumed_surface, 1), 0.3 * share * set, 1e-6);
    EXPECT_NEAR(more(MoveInput::assumed_surface, -1), -0.2 * share * set, 1e-6);
    EXPECT_NEAR(more(MoveInput::assumed_surface, -0.5), -0.1 * share * set, 1e-6);
    EXPECT_NEAR(more(MoveInput::bar_heat, 1), 0.2 * share * set, 1e-6);
    EXPECT_NEAR(more(MoveInput::bar_heat, 2), 0.44 * share * set, 1e-6);
    EXPECT_NEAR(more(MoveInput::bar_heat, -1), -0.1 * share * set, 1e-6);
    EXPECT_NEAR(more(MoveInput::wear_paved, 2), f.driven[0].wear.paved * set, 1e-6);
    EXPECT_NEAR(more(MoveInput::wear_soft, 0.5), -0.5 * f.driven[0].wear.soft * set, 1e-6);
    const double fuel =
        f.driven[0].drive.fuel.litres() * c.rates.fuel_per_l.units() * (1 + c.rates.oil_share);
    EXPECT_NEAR(more(MoveInput::fuel_use, 1), 0.5 * fuel, 1e-6);
    EXPECT_NEAR(more(MoveInput::fuel_use, -0.5), -0.25 * fuel, 1e-6);
}

TEST(OptionFigures, a_move_without_wear_stays_without) {
    OptionFigures f;
    f.driven.emplace_back();
    std::vector<double> draw = modes(move_spreads(0.6));
    at(draw, MoveInput::bar_heat) = 2;
    at(draw, MoveInput::assumed_surface) = 1;
    EXPECT_TRUE(std::isfinite(drawn_cost(f, Rates(), draw).units()));
}

TEST(OptionFigures, what_else_moves_is_priced) {
    const CheckDefaults c = test::check_defaults();
    Rates r = c.rates;
    HauledFigures h;
    h.haul = test::haul_of(c, 20, 40, 20);
    const CostParts alone = hauled_cost(h, r);
    EXPECT_NEAR(alone.total().units(), number(check("economics.haul_20_40_20"), "total"), 1e-6);
    h.more_trips = 1;
    const CostParts twice = hauled_cost(h, r);
    EXPECT_NEAR(twice.truck.units(), 2 * alone.truck.units(), 1e-9);
    EXPECT_NEAR(twice.labour.units(), 2 * alone.labour.units(), 1e-9);
    EXPECT_NEAR(twice.permit.units(), alone.permit.units(), 1e-9);
    h.more_trips = 0;
    h.own_trips = Money::from_units(90);
    EXPECT_NEAR((hauled_cost(h, r).total() - alone.total()).units(), 90, 1e-9);
    // Half an hour more to load and to unload: the crew's hour and one more of the low-bed's.
    h.own_trips = {};
    h.more_loading = Duration::from_minutes(30);
    EXPECT_NEAR((hauled_cost(h, r).labour - alone.labour).units(), 28, 1e-9);
    EXPECT_NEAR((hauled_cost(h, r).truck - alone.truck).units(), 95, 1e-9);
    h.more_loading = {};
    r.delay_per_h = Money::from_units(40);
    const Money plain = hauled_cost(h, r).delay;
    h.waits = Duration::from_minutes(90);
    EXPECT_NEAR((hauled_cost(h, r).delay - plain).units(), 60, 1e-9);
}

TEST(OptionFigures, widths_ask_for_cars_and_a_permit) {
    const CheckDefaults c = test::check_defaults();
    Rates r = c.rates;
    r.escorts = 0;
    r.drive_permit = Money::from_units(75);
    DriveFigures d = test::drive_of(c, 24, 12, 6);
    const double plain = drive_cost(d, r).total().units();
    d.wide_escorts = 1;
    EXPECT_NEAR(drive_cost(d, r).total().units() - plain, number(check("economics.drive_24_12_6"), "escort"),
                1e-6);
    d.wide_permit = true;
    EXPECT_NEAR(drive_cost(d, r).permit.units(), 75, 1e-9);
    r.escorts = 3;
    EXPECT_NEAR(drive_cost(d, r).escort.units(), 3 * number(check("economics.drive_24_12_6"), "escort"),
                1e-6);
    HaulFigures h = test::haul_of(c, 20, 40, 20);
    EXPECT_NEAR(haul_cost(h, r).escort.units(), 0, 1e-12);
    h.wide_escorts = 2;
    const double car = 30 * (40.0 / 55 + 40.0 / 60) + 0.45 * 80;
    EXPECT_NEAR(haul_cost(h, r).escort.units(), 2 * car, 1e-6);
}

TEST(MoveInputs, have_names_and_ordered_ranges) {
    const std::vector<Spread> spreads = move_spreads(0.6);
    ASSERT_EQ(spreads.size(), move_input_count);
    std::set<std::string> seen;
    for (std::size_t n = 0; n < spreads.size(); ++n) {
        EXPECT_TRUE(seen.insert(spreads[n].name).second) << spreads[n].name;
        EXPECT_EQ(move_input(spreads[n].name), static_cast<MoveInput>(n));
        EXPECT_LT(spreads[n].low, spreads[n].mode);
        EXPECT_LT(spreads[n].mode, spreads[n].high);
    }
    EXPECT_THROW((void)move_input("luck"), Error);
    const Spread& paved = spreads[static_cast<std::size_t>(MoveInput::wear_paved)];
    EXPECT_DOUBLE_EQ(paved.low, 0.4);
    EXPECT_DOUBLE_EQ(paved.high, 2.5);
    EXPECT_DOUBLE_EQ(move_spreads(0.1)[static_cast<std::size_t>(MoveInput::wear_paved)].low, 0.9);
    EXPECT_GT(move_spreads(3)[static_cast<std::size_t>(MoveInput::wear_paved)].low, 0);
}

}  // namespace
}  // namespace loamway
