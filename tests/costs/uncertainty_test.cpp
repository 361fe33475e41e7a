// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/uncertainty.h"

#include <gtest/gtest.h>

#include "drive_or_haul.h"
#include "loamway/base/error.h"

namespace loamway {
namespace {

using test::check;
using test::MoveOfLength;
using test::multiplied;
using test::number;

constexpr double near_enough = 1e-6;

Trials drive_and_haul(Length length, std::size_t trials, std::uint64_t seed) {
    const std::vector<Spread> spreads = assumed_spreads();
    return Trials(spreads, 2, trials, seed, [&](std::span<const double> x, std::span<double> costs) {
        const MoveOfLength m = multiplied(spreads, x);
        costs[0] = m.drive(length).units();
        costs[1] = m.haul(length).units();
    });
}

TEST(Trials, match_the_checks) {
    const Value::Array& rows = *check("uncertainty.mc_triangular").as_array();
    ASSERT_EQ(rows.size(), 3u);
    for (const Value& row : rows) {
        SCOPED_TRACE(to_json(row));
        const auto n = static_cast<std::size_t>(number(row, "N"));
        const Comparison c = drive_and_haul(Length::from_km(number(row, "L")), n,
                                            static_cast<std::uint64_t>(number(row, "seed")))
                                 .compare(0, 1);
        EXPECT_EQ(c.trials, n);
        EXPECT_EQ(c.a_cheaper, static_cast<std::size_t>(number(row, "k_drive_cheaper")));
        EXPECT_NEAR(c.probability, number(row, "P_drive_cheaper"), 1e-12);
        const Value::Array& wilson = *row.find("wilson95")->as_array();
        EXPECT_NEAR(c.probability95.low, wilson[0].number(), 1e-8);
        EXPECT_NEAR(c.probability95.high, wilson[1].number(), 1e-8);
        EXPECT_NEAR(c.mean, number(row, "mean_diff"), near_enough);
        EXPECT_NEAR(c.p10, number(row, "P10"), near_enough);
        EXPECT_NEAR(c.p50, number(row, "P50"), near_enough);
        EXPECT_NEAR(c.p90, number(row, "P90"), near_enough);
        EXPECT_NEAR(c.regret_a, number(row, "expected_regret_if_drive"), near_enough);
        EXPECT_NEAR(c.regret_b, number(row, "expected_regret_if_haul"), near_enough);
    }
}

TEST(Trials, sixty_kilometres_match_the_table_of_the_model) {
    // Stated in the model's table only, to four decimals.
    const Comparison c = drive_and_haul(Length::from_km(60), 20000, 20250101).compare(0, 1);
    EXPECT_EQ(c.a_cheaper, 1323u);
    EXPECT_NEAR(c.mean, 157.4718, 5e-5);
    EXPECT_NEAR(c.p10, 21.7141, 5e-5);
    EXPECT_NEAR(c.p50, 155.2996, 5e-5);
    EXPECT_NEAR(c.p90, 298.4355, 5e-5);
    EXPECT_FALSE(c.too_close());
}

TEST(Trials, the_smaller_regret_belongs_to_the_smaller_mean) {
    const Trials t = drive_and_haul(Length::from_km(44), 2000, 1);
    const Comparison c = t.compare(0, 1);
    EXPECT_TRUE(c.too_close());
    EXPECT_NEAR(c.regret_a - c.regret_b, c.mean, 1e-9);
    EXPECT_NEAR(t.mean(0) - t.mean(1), c.mean, 1e-9);
    EXPECT_NEAR(t.regret(0), c.regret_a, 1e-9);
    EXPECT_NEAR(t.regret(1), c.regret_b, 1e-9);
    EXPECT_DOUBLE_EQ(t.probability_cheapest(0) + t.probability_cheapest(1), 1);
    EXPECT_DOUBLE_EQ(t.probability_cheapest(0), c.probability);
    const Comparison other = t.compare(1, 0);
    EXPECT_DOUBLE_EQ(other.regret_a, c.regret_b);
    EXPECT_DOUBLE_EQ(other.mean, -c.mean);
}

TEST(Trials, the_seed_decides_everything) {
    const Trials a = drive_and_haul(Length::from_km(30), 50, 5);
    const Trials b = drive_and_haul(Length::from_km(30), 50, 5);
    const Trials c = drive_and_haul(Length::from_km(30), 50, 6);
    EXPECT_TRUE(std::equal(a.costs(0).begin(), a.costs(0).end(), b.costs(0).begin()));
    EXPECT_FALSE(std::equal(a.costs(0).begin(), a.costs(0).end(), c.costs(0).begin()));
}

TEST(Trials, three_options_share_their_draws) {
    // Costs x, 1.5 and 3 - x for x even between 1 and 2: x is cheapest below 1.5, 3 - x above, 1.5 never.
    const std::vector<Spread> even{{"x", 1, 1, 2, SpreadShape::triangular}};
    const Trials t(even, 3, 4000, 9, [](std::span<const double> x, std::span<double> costs) {
        costs[0] = x[0];
        costs[1] = 1.5;
        costs[2] = 3 - x[0];
    });
    EXPECT_EQ(t.trials(), 4000u);
    EXPECT_EQ(t.options(), 3u);
    EXPECT_NEAR(t.probability_cheapest(0), 0.75, 0.02);
    EXPECT_DOUBLE_EQ(t.probability_cheapest(1), 0);
    EXPECT_NEAR(t.probability_cheapest(2), 0.25, 0.02);
    EXPECT_NEAR(t.mean(0), 4.0 / 3, 0.02);
    EXPECT_NEAR(t.quantile(0, 0.75), 1.5, 0.02);
    EXPECT_DOUBLE_EQ(t.quantile(1, 0.1), 1.5);
    EXPECT_DOUBLE_EQ(t.quantile(0, 0), *std::min_element(t.costs(0).begin(), t.costs(0).end()));
    EXPECT_DOUBLE_EQ(t.quantile(0, 1), *std::max_element(t.costs(0).begin(), t.costs(0).end()));
    EXPECT_GT(t.regret(1), 0);
}

TEST(Trials, without_a_question_are_refused) {
    const auto price = [](std::span<const double>, std::span<double>) {};
    EXPECT_THROW(Trials({}, 2, 0, 1, price), Error);
    EXPECT_THROW(Trials({}, 0, 10, 1, price), Error);
    const Trials t({}, 1, 1, 1, price);
    EXPECT_THROW((void)t.mean(1), Error);
}

TEST(Wilson, stays_between_none_and_all) {
    EXPECT_DOUBLE_EQ(wilson95(0, 10).low, 0);
    EXPECT_GT(wilson95(0, 10).high, 0.2);
    EXPECT_LE(wilson95(10, 10).high, 1);
    EXPECT_LT(wilson95(10, 10).low, 0.8);
}

TEST(TornadoBars, match_the_checks) {
    const std::vector<Spread> spreads = assumed_spreads();
    const Length length = Length::from_km(40);
    const Tornado t = tornado(spreads, [&](std::span<const double> x) {
        const MoveOfLength m = multiplied(spreads, x);
        return (m.drive(length) - m.haul(length)).units();
    });
    EXPECT_NEAR(t.base, number(check("uncertainty.tornado_L40"), "base"), near_enough);
    const Value::Array& rows = *check("uncertainty.tornado_L40.rows").as_array();
    ASSERT_EQ(t.bars.size(), rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        SCOPED_TRACE(to_json(rows[i]));
        EXPECT_EQ(t.bars[i].name, *rows[i].find("var")->as_string());
        EXPECT_NEAR(t.bars[i].input_p10, number(rows[i], "x_P10"), 1e-8);
        EXPECT_NEAR(t.bars[i].input_p90, number(rows[i], "x_P90"), 1e-8);
        EXPECT_NEAR(t.bars[i].at_p10, number(rows[i], "d_P10"), near_enough);
        EXPECT_NEAR(t.bars[i].at_p90, number(rows[i], "d_P90"), near_enough);
        EXPECT_NEAR(t.bars[i].swing, number(rows[i], "swing"), near_enough);
    }
}

TEST(TornadoBars, equal_swings_stand_by_name) {
    const std::vector<Spread> spreads{{"b", 0, 1, 2, {}}, {"c", 0, 1, 4, {}}, {"a", 0, 1, 2, {}}};
    const Tornado t = tornado(spreads, [](std::span<const double> x) { return x[0] + x[1] + x[2]; });
    EXPECT_DOUBLE_EQ(t.base, 3);
    EXPECT_EQ(t.bars[0].name, "c");
    EXPECT_EQ(t.bars[1].name, "a");
    EXPECT_EQ(t.bars[2].name, "b");
}

}  // namespace
}  // namespace loamway
