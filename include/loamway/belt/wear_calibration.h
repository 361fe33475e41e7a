// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_WEAR_CALIBRATION_H
#define LOAMWAY_BELT_WEAR_CALIBRATION_H

// What surveys of bar height say about the wear rates of this belt: Bayesian linear regression.
//   y = x . rates + noise,  V = (X' R^-1 X + S0^-1)^-1,  mean = V (X' R^-1 y + S0^-1 m0)
// y is the drop of the mean bar height between two surveys of the same bars, x what was driven between them.
// The prior has a standard deviation of 0.6 of each assumed rate; the noise of a survey difference is sqrt(2
// / bars) 0.30 mm. Equal to ridge regression towards the assumed rates. Pure functions.

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/belt/wear.h"

namespace loamway {

/// Hard, gravel, earth (km weighted by the factor F of wear.h), field (hours), sharp turns (of 90 degrees).
constexpr std::size_t wear_rate_count = 5;
using WearVector = std::array<double, wear_rate_count>;
constexpr std::array<std::string_view, wear_rate_count> wear_rate_names{"hard", "gravel", "earth", "field",
                                                                        "turns"};  // in JSON
constexpr std::array<std::string_view, wear_rate_count> wear_rate_words{"paved", "gravel", "earth", "field",
                                                                        "turns"};  // for people

struct WearInterval {
    WearVector driven{};
    double drop_mm = 0.0;
    int bars = 10;  // measured at both surveys
};

struct WearRateEstimate {
    double prior = 0.0, prior_sd = 0.0;
    double mean = 0.0, sd = 0.0;
    double low = 0.0, high = 0.0;  // 5 and 95 %
    double gain = 0.0;             // share of the prior's variance that is gone
    [[nodiscard]] bool learnt() const { return gain > 0.5; }
};

struct WearForecast {
    double mm = 0.0, sd = 0.0;
};

struct WearCalibration {
    std::array<WearRateEstimate, wear_rate_count> rates;
    std::array<WearVector, wear_rate_count> covariance{};
    [[nodiscard]] double correlation(std::size_t a, std::size_t b) const;
    [[nodiscard]] WearForecast forecast(const WearVector& driven) const;
    /// The rates for wear.h.
    [[nodiscard]] WearRates wear_rates() const;
    /// What a person must be told, for example a rate that came out below zero.
    std::vector<std::string> notes;
};

/// `turn_mm` is the assumed scrub of one sharp turn. Input Error for a survey of under ten bars or a negative
/// distance.
[[nodiscard]] WearCalibration calibrate_wear(const std::vector<WearInterval>& intervals,
                                             const WearRates& assumed = {}, double turn_mm = 2.0e-3);

}  // namespace loamway

#endif
