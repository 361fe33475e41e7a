// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/spread.h"

#include <gtest/gtest.h>

#include <charconv>
#include <cmath>
#include <limits>

#include "checks.h"
#include "loamway/base/error.h"
#include "loamway/costs/random.h"

namespace loamway {
namespace {

using test::check;
using test::number;

double from_text(std::string_view text) {
    double v = std::numeric_limits<double>::quiet_NaN();
    std::from_chars(text.data(), text.data() + text.size(), v);
    return v;
}

TEST(SplitMix64, matches_its_checks) {
    SplitMix64 zero(0);
    for (const Value& hex : *check("uncertainty.splitmix64_seed0_first3_hex").as_array()) {
        const std::string& text = *hex.as_string();
        std::uint64_t expected = 0;
        std::from_chars(text.data() + 2, text.data() + text.size(), expected, 16);
        EXPECT_EQ(zero.next(), expected);
    }
    SplitMix64 other(42);
    for (const Value& u : *check("uncertainty.splitmix64_seed42_first3_u").as_array())
        EXPECT_NEAR(other.uniform(), u.number(), 1e-8);
}

TEST(Triangular, quantiles_match_the_checks) {
    const Value::Object& rows = *check("uncertainty.tri_inv_a2_m3_b7").as_object();
    ASSERT_EQ(rows.size(), 6u);
    const Quantiles q({"x", 2, 3, 7, SpreadShape::triangular});
    for (const auto& [u, expected] : rows) {
        EXPECT_NEAR(triangular_quantile(2, 3, 7, from_text(u)), expected.number(), 1e-8) << u;
        EXPECT_NEAR(q.at(from_text(u)), expected.number(), 1e-8) << u;
    }
}

TEST(Triangular, likeliest_value_may_stand_at_an_end) {
    EXPECT_DOUBLE_EQ(triangular_quantile(1, 1, 2, 0), 1);
    EXPECT_DOUBLE_EQ(triangular_quantile(1, 1, 2, 0.75), 1.5);
    EXPECT_DOUBLE_EQ(triangular_quantile(1, 2, 2, 0.25), 1.5);
    EXPECT_DOUBLE_EQ(triangular_quantile(3, 3, 3, 0.4), 3);
}

TEST(Pert, shape_matches_the_checks) {
    const Value& row = check("uncertainty.pert_2_3_7");
    const PertShape s = pert_shape(2, 3, 7);
    EXPECT_NEAR(s.alpha, number(row, "alpha"), 1e-12);
    EXPECT_NEAR(s.beta, number(row, "beta"), 1e-12);
    EXPECT_NEAR(s.mean, number(row, "mean"), 1e-12);
    EXPECT_NEAR(s.variance, number(row, "var"), 1e-12);
}

TEST(Pert, quantiles_match_the_checks) {
    const Value::Object& rows = *check("uncertainty.pert_inv_2_3_7").as_object();
    ASSERT_EQ(rows.size(), 3u);
    const Quantiles q({"x", 2, 3, 7, SpreadShape::pert});
    for (const auto& [u, expected] : rows)
        EXPECT_NEAR(q.at(from_text(u)), expected.number(), 5e-8) << u;
    EXPECT_DOUBLE_EQ(q.at(0), 2);
    EXPECT_DOUBLE_EQ(q.at(1), 7);
}

TEST(Pert, quantiles_of_a_power_are_exact) {
    // With the likeliest value at the low end the distribution is 1 - (1 - x)^5.
    const Quantiles q({"x", 0, 0, 1, SpreadShape::pert});
    for (const double u : {0.01, 0.1, 0.37, 0.5, 0.9, 0.99})
        EXPECT_NEAR(q.at(u), 1 - std::pow(1 - u, 0.2), 1e-8) << u;
}

TEST(Pert, skewed_quantiles_match_the_inverse_beta_function) {
    // Likeliest value, u, quantile on [0, 1]: bisection of the regularised incomplete beta function in 25
    // digits.
    struct Row {
        double mode, u, x;
    };
    const Row rows[]{
        {0.01, 0.001, 0.000266510904359}, {0.01, 0.5, 0.136705978454}, {0.01, 0.99, 0.610699656141},
        {0.05, 0.001, 0.000701046781617}, {0.05, 0.5, 0.16590270191},  {0.05, 0.99, 0.644024589137},
        {0.9, 0.001, 0.190522347759},     {0.9, 0.5, 0.797335149639},  {0.9, 0.99, 0.990790863226}};
    for (const Row& r : rows)
        EXPECT_NEAR(Quantiles({"x", 0, r.mode, 1, SpreadShape::pert}).at(r.u), r.x, 1e-8)
            << r.mode << ' ' << r.u;
}

TEST(Pert, drawn_values_have_the_stated_mean_and_variance) {
    const Quantiles q({"x", 0.4, 1, 2.5, SpreadShape::pert});
    const PertShape s = pert_shape(0.4, 1, 2.5);
    SplitMix64 random(7);
    double sum = 0, squares = 0;
    constexpr int n = 100000;
    for (int i = 0; i < n; ++i) {
        const double x = q.at(random.uniform());
        sum += x;
        squares += x * x;
    }
    EXPECT_NEAR(sum / n, s.mean, 0.004);
    EXPECT_NEAR(squares / n - sum / n * sum / n, s.variance, 0.003);
}

TEST(Quantiles, grow_with_u_and_stay_inside) {
    for (const SpreadShape shape : {SpreadShape::triangular, SpreadShape::pert})
        for (const double mode : {0.5, 0.7, 2.0}) {
            const Quantiles q({"x", 0.5, mode, 2, shape});
            double last = 0.5;
            for (int i = 0; i <= 5000; ++i) {
                const double x = q.at(i / 5000.0);
                EXPECT_GE(x, last);
                EXPECT_LE(x, 2);
                last = x;
            }
        }
}

TEST(Quantiles, refuse_values_out_of_order) {
    EXPECT_THROW(Quantiles({"x", 2, 1, 3, SpreadShape::triangular}), Error);
    EXPECT_THROW(Quantiles({"x", 0, 4, 3, SpreadShape::pert}), Error);
    EXPECT_THROW(Quantiles({"x", 0, 1, std::numeric_limits<double>::infinity(), SpreadShape::pert}), Error);
    EXPECT_THROW(Quantiles({"x", std::nan(""), 1, 3, SpreadShape::pert}), Error);
    EXPECT_DOUBLE_EQ(Quantiles({"x", 3, 3, 3, SpreadShape::pert}).at(0.3), 3);
}

TEST(Spreads, the_assumed_ones_are_those_of_the_checks) {
    const std::vector<Spread> spreads = assumed_spreads();
    const Value::Array& rows = *check("uncertainty.vars_multipliers").as_array();
    ASSERT_EQ(spreads.size(), rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Value::Array& row = *rows[i].as_array();
        EXPECT_EQ(spreads[i].name, *row[0].as_string());
        EXPECT_DOUBLE_EQ(spreads[i].low, row[1].number());
        EXPECT_DOUBLE_EQ(spreads[i].mode, row[2].number());
        EXPECT_DOUBLE_EQ(spreads[i].high, row[3].number());
    }
    EXPECT_EQ(spread_index(spreads, "v"), 7u);
    EXPECT_THROW((void)spread_index(spreads, "vv"), Error);
}

}  // namespace
}  // namespace loamway
