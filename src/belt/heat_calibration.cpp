// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/heat_calibration.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "trip_leg.h"

namespace loamway {
namespace {

constexpr HeatVector prior_sd{heat_scale_prior_sd, 0.3, 0.12, 0.7};
constexpr double difference = 0.01;  // step of the logarithms for the sensitivities
const Duration latest = Duration::from_minutes(20);
const Duration tip_settles = Duration::from_minutes(10);
constexpr double most_sd = 3.0;      // a scale further out than that many sd is no calibration
constexpr double must_settle = 0.8;  // a reading that leaves more of the prior's sd says too little
const Temperature coldest_bar = Temperature::from_celsius(-40), hottest_bar = Temperature::from_celsius(200);

/// The model's answers to one set of parameters.
struct Answer {
    double core = 0.0;  // at the stop
    std::vector<double> readings;
};

/// A trip and readings, to be run again with other parameters.
struct Experiment {
    const Machine& machine;
    const WorkingState& state;
    const Conditions& conditions;
    const std::vector<TripSegment>& segments;
    const std::vector<HeatReading>& readings;
    const TripOptions& options;
    BarSolver solver;

    [[nodiscard]] Answer run(const HeatVector& logs) const;
};

HeatParameters scaled(const HeatParameters& base, const HeatVector& logs) {
    HeatParameters p = base;
    p.scales.heat *= std::exp(logs[0]);
    p.scales.cooling *= std::exp(logs[1]);
    p.rubber.k *= std::exp(logs[2]);
    for (SurfaceHeat& s : p.surfaces)
        s.contact *= std::exp(logs[3]);
    return p;
}

Answer Experiment::run(const HeatVector& logs) const {
    const HeatParameters p = scaled(options.heat, logs);
    const HeatModel model(machine, state, p, options.motion, options.belts.bar_height);
    const std::vector<TripLeg> legs = plan_legs(machine, conditions, model.motion(), segments);
    BarHeat bar(model.belt(), p.rubber, legs.front().way.air, solver);
    for (std::size_t i = 0; i < legs.size(); ++i) {
        bar.run(model.regime(legs[i].way), legs[i].driving);
        if (i + 1 < legs.size())
            bar.run(model.regime(legs[i].still), segments[i].stop);
    }
    Answer out;
    out.core = bar.core().celsius();
    out.readings.resize(readings.size());
    std::vector<std::size_t> order(readings.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return readings[a].after_stop < readings[b].after_stop;
    });
    const HeatRegime still = model.regime(legs.back().still);
    Duration now;
    for (const std::size_t i : order) {
        // A second at least: the surface is then that of a standing bar.
        const Duration at = std::max(readings[i].after_stop, Duration::from_seconds(1));
        bar.run(still, at - now);
        now = at;
        const bool tip = readings[i].place == ReadingPlace::tip;
        out.readings[i] = (tip ? bar.tip() : bar.flank()).celsius();
    }
    return out;
}

std::optional<std::string> fault_of(const HeatReading& r, RoadSurface last) {
    if (r.after_stop.seconds() < 0.0 || r.after_stop > latest)
        return fmt::format("read {:.0f} minutes after the stop: within 2 is best, 20 is the latest",
                           r.after_stop.minutes());
    if (r.place == ReadingPlace::tip && class_of(last) == SurfaceClass::hard && r.after_stop < tip_settles)
        return "a tip just after a paved road shows the road: read the flank half-way up";
    if (!(r.sd_k > 0.0))
        return "a reading needs a standard deviation above zero";
    if (!(r.value >= coldest_bar && r.value <= hottest_bar))
        return fmt::format("{:.0f} °C is no temperature of a bar's surface", r.value.celsius());
    return std::nullopt;
}

/// Sensitivity of every answer to the logarithm of one parameter, by a forward difference at `logs`.
Answer sensitivity(const Experiment& e, HeatVector logs, std::size_t parameter, const Answer& here) {
    logs[parameter] += difference;
    Answer out = e.run(logs);
    out.core = (out.core - here.core) / difference;
    for (std::size_t i = 0; i < out.readings.size(); ++i)
        out.readings[i] = (out.readings[i] - here.readings[i]) / difference;
    return out;
}

HeatUncertainty joint_uncertainty(const Experiment& e, const HeatVector& logs) {
    constexpr auto n = static_cast<Eigen::Index>(heat_parameter_count);
    HeatUncertainty out;
    out.readings.resize(e.readings.size());
    const Answer here = e.run(logs);
    for (std::size_t p = 0; p < heat_parameter_count; ++p) {
        const Answer s = sensitivity(e, logs, p, here);
        out.core[p] = s.core;
        for (std::size_t i = 0; i < e.readings.size(); ++i)
            out.readings[i][p] = s.readings[i];
    }
    const Eigen::Map<const Eigen::Vector4d> core(out.core.data());
    const Eigen::Map<const Eigen::Vector4d> sd(prior_sd.data());
    Eigen::Matrix4d precision = sd.array().square().inverse().matrix().asDiagonal();
    for (std::size_t i = 0; i < e.readings.size(); ++i) {
        const Eigen::Map<const Eigen::Vector4d> j(out.readings[i].data());
        precision += j * j.transpose() / (e.readings[i].sd_k * e.readings[i].sd_k);
    }
    const Eigen::Matrix4d covariance = precision.ldlt().solve(Eigen::Matrix4d::Identity());
    for (Eigen::Index p = 0; p < n; ++p)
        out.sd[static_cast<std::size_t>(p)] = std::sqrt(covariance(p, p));
    out.core_sd_before_k = core.cwiseProduct(sd).norm();
    out.core_sd_k = std::sqrt(core.dot(covariance * core));
    return out;
}

std::vector<Temperature> temperatures(const std::vector<double>& celsius) {
    std::vector<Temperature> out;
    for (const double c : celsius)
        out.push_back(Temperature::from_celsius(c));
    return out;
}

/// One damped-free Gauss-Newton step; returns the new ln S_q and its standard deviation.
std::pair<double, double> gauss_newton(const Experiment& e, double x, const Answer& here) {
    const Answer slope = sensitivity(e, {x, 0, 0, 0}, 0, here);
    double weight = 1.0 / (prior_sd[0] * prior_sd[0]);
    double pull = -x * weight;
    for (std::size_t i = 0; i < e.readings.size(); ++i) {
        const HeatReading& r = e.readings[i];
        const double w = 1.0 / (r.sd_k * r.sd_k);
        weight += w * slope.readings[i] * slope.readings[i];
        pull += w * slope.readings[i] * (r.value.celsius() - here.readings[i]);
    }
    return {x + pull / weight, 1.0 / std::sqrt(weight)};
}

}  // namespace

HeatUncertainty heat_uncertainty(const Machine& machine, const WorkingState& state,
                                 const Conditions& conditions, const std::vector<TripSegment>& segments,
                                 const std::vector<HeatReading>& readings, const TripOptions& options,
                                 BarSolver solver) {
    return joint_uncertainty({machine, state, conditions, segments, readings, options, solver}, {});
}

HeatCalibration calibrate_heat(const Machine& machine, const WorkingState& state,
                               const Conditions& conditions, const std::vector<TripSegment>& segments,
                               const std::vector<HeatReading>& readings, const TripOptions& options,
                               BarSolver solver) {
    const Experiment e{machine, state, conditions, segments, readings, options, solver};
    HeatCalibration out;
    const Answer before = e.run({});
    out.scale = options.heat.scales.heat;
    out.core_before = out.core_after = Temperature::from_celsius(before.core);
    out.predicted_before = out.predicted_after = temperatures(before.readings);
    const auto refuse = [&](std::string why) {
        out.refused = std::move(why);
        static const std::vector<HeatReading> none;
        out.core_sd_k =
            joint_uncertainty({machine, state, conditions, segments, none, options, solver}, {}).core_sd_k;
        return out;
    };
    if (readings.empty())
        return refuse("there is no reading");
    for (const HeatReading& r : readings)
        if (auto fault = fault_of(r, segments.back().surface))
            return refuse(std::move(*fault));

    double x = 0.0, sd = prior_sd[0];
    constexpr int enough = 25;
    for (int i = 0; i < enough; ++i) {
        const auto [next, next_sd] = gauss_newton(e, x, e.run({x, 0, 0, 0}));
        const double moved = std::abs(next - x);
        // Bounded, so that a wild reading cannot overflow the model before it is refused.
        x = std::clamp(next, -4.0 * most_sd * prior_sd[0], 4.0 * most_sd * prior_sd[0]);
        sd = next_sd;
        if (moved < 1e-7)
            break;
    }
    if (sd > must_settle * prior_sd[0])
        return refuse("the belts were too cool for the reading to say much: read after 10 km or more");
    if (std::abs(x) > most_sd * prior_sd[0])
        return refuse(fmt::format(
            "the reading would need {:.1f} times the expected heat: look at machine, trip and reading again",
            std::exp(x)));
    const HeatVector logs{x, 0, 0, 0};
    const Answer after = e.run(logs);
    out.log_scale = x;
    out.log_scale_sd = sd;
    out.scale = options.heat.scales.heat * std::exp(x);
    out.core_after = Temperature::from_celsius(after.core);
    out.predicted_after = temperatures(after.readings);
    out.core_sd_k = joint_uncertainty(e, logs).core_sd_k;
    return out;
}

}  // namespace loamway
