// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/wear_calibration.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <cmath>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr double prior_share = 0.6;  // sd of the prior over its mean
constexpr double one_bar_sd_mm = 0.30;
constexpr double to_five_percent = 1.6448536269514722;  // of the normal distribution
constexpr int fewest_bars = 10;

constexpr auto count = static_cast<Eigen::Index>(wear_rate_count);
using Vector = Eigen::Matrix<double, count, 1>;
using Matrix = Eigen::Matrix<double, count, count>;

void require_usable(const WearInterval& interval, std::size_t number) {
    const auto refuse = [&](std::string what, std::string to_do) {
        throw Error(ErrorKind::input, fmt::format("survey interval {}: {}", number, what), std::move(to_do));
    };
    if (interval.bars < fewest_bars)
        refuse(fmt::format("{} bars measured", interval.bars),
               "measure the same ten bars or more both times");
    if (!std::isfinite(interval.drop_mm))
        refuse("the drop in height is no number", "give millimetres");
    for (const double x : interval.driven)
        if (!(x >= 0.0) || !std::isfinite(x))
            refuse("a distance, a time or a count is below zero", "give what was driven between the surveys");
}

Vector map(const WearVector& v) {
    return Eigen::Map<const Vector>(v.data());
}

}  // namespace

double WearCalibration::correlation(std::size_t a, std::size_t b) const {
    return covariance.at(a).at(b) / std::sqrt(covariance.at(a).at(a) * covariance.at(b).at(b));
}

WearForecast WearCalibration::forecast(const WearVector& driven) const {
    WearForecast out;
    double variance = 0.0;
    for (std::size_t i = 0; i < wear_rate_count; ++i) {
        out.mm += driven[i] * rates[i].mean;
        for (std::size_t j = 0; j < wear_rate_count; ++j)
            variance += driven[i] * covariance[i][j] * driven[j];
    }
    out.sd = std::sqrt(variance);
    return out;
}

WearRates WearCalibration::wear_rates() const {
    WearRates out;
    const double concrete_to_hard = out.concrete_mm_per_km / out.hard_mm_per_km;
    out.hard_mm_per_km = rates[0].mean;
    out.gravel_mm_per_km = rates[1].mean;
    out.earth_mm_per_km = rates[2].mean;
    out.field_mm_per_h = rates[3].mean;
    out.concrete_mm_per_km = rates[0].mean * concrete_to_hard;
    // The scrub of a turn goes with the rate of the ground; what was learnt of turns goes on top.
    out.turn_factor = (rates[4].mean / rates[4].prior) / (rates[0].mean / rates[0].prior);
    return out;
}

WearCalibration calibrate_wear(const std::vector<WearInterval>& intervals, const WearRates& assumed,
                               double turn_mm) {
    const WearVector prior{assumed.hard_mm_per_km, assumed.gravel_mm_per_km, assumed.earth_mm_per_km,
                           assumed.field_mm_per_h, turn_mm};
    const Vector mean0 = map(prior), sd0 = prior_share * mean0;
    Matrix precision = sd0.array().square().inverse().matrix().asDiagonal();
    Vector pull = precision * mean0;
    for (std::size_t i = 0; i < intervals.size(); ++i) {
        const WearInterval& interval = intervals[i];
        require_usable(interval, i + 1);
        const double variance = 2.0 / interval.bars * one_bar_sd_mm * one_bar_sd_mm;
        const Vector x = map(interval.driven);
        precision += x * x.transpose() / variance;
        pull += x * (interval.drop_mm / variance);
    }
    const Matrix covariance = precision.ldlt().solve(Matrix::Identity());
    const Vector mean = covariance * pull;

    WearCalibration out;
    for (std::size_t i = 0; i < wear_rate_count; ++i) {
        const auto at = static_cast<Eigen::Index>(i);
        WearRateEstimate& r = out.rates[i];
        r.prior = mean0(at);
        r.prior_sd = sd0(at);
        r.mean = mean(at);
        r.sd = std::sqrt(covariance(at, at));
        r.low = r.mean - to_five_percent * r.sd;
        r.high = r.mean + to_five_percent * r.sd;
        r.gain = 1.0 - covariance(at, at) / (sd0(at) * sd0(at));
        for (std::size_t j = 0; j < wear_rate_count; ++j)
            out.covariance[i][j] = covariance(at, static_cast<Eigen::Index>(j));
        if (r.mean < 0.0)
            out.notes.push_back(fmt::format(
                "the rate for {} came out below zero: look at the surveys again, or do not use it",
                wear_rate_words[i]));
    }
    return out;
}

}  // namespace loamway
