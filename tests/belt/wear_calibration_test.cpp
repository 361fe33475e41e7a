// SPDX-License-Identifier: Apache-2.0
// Calibration of wear rates: section G2 of tests/belt/data/belt.json, a synthetic set of surveys whose data
// and results are listed there.
#include "loamway/belt/wear_calibration.h"

#include <gtest/gtest.h>

#include "belt_checks.h"
#include "loamway/base/error.h"

namespace loamway {
namespace {

using test::number;

WearVector vector_of(const Value& list) {
    WearVector out{};
    for (std::size_t i = 0; i < wear_rate_count; ++i)
        out[i] = list.as_array()->at(i).number();
    return out;
}

std::vector<WearInterval> surveys() {
    const Value& g2 = test::section("G2_wear_calibration");
    std::vector<WearInterval> out;
    const Value::Array& y = *g2.find("y_mm")->as_array();
    for (const Value& row : *g2.find("X")->as_array())
        out.push_back({vector_of(row), y.at(out.size()).number(), 10});
    return out;
}

TEST(WearCalibration, matches_its_check) {
    const Value& g2 = test::section("G2_wear_calibration");
    const WearCalibration c = calibrate_wear(surveys());
    const Value::Array& list = *g2.find("posterior")->as_array();
    ASSERT_EQ(list.size(), wear_rate_count);
    for (std::size_t i = 0; i < wear_rate_count; ++i) {
        SCOPED_TRACE(to_json(list[i]));
        const WearRateEstimate& r = c.rates[i];
        EXPECT_NEAR(r.prior, number(list[i], "prior"), 1e-9);
        EXPECT_NEAR(r.prior_sd, number(list[i], "prior_sd"), 1e-9);
        EXPECT_NEAR(r.mean, number(list[i], "posterior"), 5.1e-7);
        EXPECT_NEAR(r.sd, number(list[i], "sd"), 5.1e-7);
        EXPECT_NEAR(r.low, number(list[i], "q05"), 7e-7);
        EXPECT_NEAR(r.high, number(list[i], "q95"), 7e-7);
        EXPECT_NEAR(r.gain, number(list[i], "information_gain"), 5.1e-4);
        for (std::size_t j = 0; j < wear_rate_count; ++j) {
            const double v = g2.find("posterior_cov")->as_array()->at(i).as_array()->at(j).number();
            EXPECT_NEAR(c.covariance[i][j], v, 1e-5 * std::abs(v) + 1e-13);
        }
    }
    EXPECT_NEAR(c.correlation(0, 4), number(g2, "corr_asphalt_turn"), 5.1e-5);
    EXPECT_FALSE(c.rates[2].learnt());
    EXPECT_TRUE(c.rates[0].learnt());
    EXPECT_TRUE(c.notes.empty());
    const Value& job = *g2.find("prediction_job");
    const WearVector x = vector_of(*job.find("x"));
    const WearForecast before = calibrate_wear({}).forecast(x), after = c.forecast(x);
    EXPECT_NEAR(before.mm, number(job, "prior_mm"), 5.1e-5);
    EXPECT_NEAR(before.sd, number(job, "prior_sd"), 5.1e-5);
    EXPECT_NEAR(after.mm, number(job, "posterior_mm"), 5.1e-5);
    EXPECT_NEAR(after.sd, number(job, "posterior_sd"), 5.1e-5);
}

TEST(WearCalibration, without_surveys_the_assumptions_stand) {
    const WearCalibration c = calibrate_wear({});
    EXPECT_NEAR(c.wear_rates().hard_mm_per_km, WearRates{}.hard_mm_per_km, 1e-15);
    EXPECT_NEAR(c.wear_rates().concrete_mm_per_km, WearRates{}.concrete_mm_per_km, 1e-15);
    EXPECT_NEAR(c.rates[3].gain, 0, 1e-12);
}

TEST(WearCalibration, tells_of_a_rate_below_zero) {
    std::vector<WearInterval> odd{{{1000, 0, 0, 0, 0}, 8.0, 50}, {{1000, 500, 0, 0, 0}, 5.0, 50}};
    const WearCalibration c = calibrate_wear(odd);
    ASSERT_EQ(c.notes.size(), 1u);
    EXPECT_NE(c.notes.front().find("gravel"), std::string::npos);
}

TEST(WearCalibration, refuses_surveys_it_cannot_use) {
    EXPECT_THROW((void)calibrate_wear({{{10, 0, 0, 0, 0}, 1, 9}}), Error);
    EXPECT_THROW((void)calibrate_wear({{{-10, 0, 0, 0, 0}, 1, 10}}), Error);
}

}  // namespace
}  // namespace loamway
