// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BELT_HEAT_CALIBRATION_H
#define LOAMWAY_BELT_HEAT_CALIBRATION_H

// What an infrared reading after a known trip says about the heat scale S_q of this belt (HeatScales::heat).
// Gauss-Newton on ln S_q with a prior of sd 0.4 around one; the model's tip or flank temperature after the
// stop against what was read. A reading of the surface settles S_q only: heat conduction and contact stay
// where they were believed to be, so the core's standard deviation is taken from the joint analysis of four
// parameters (ln S_q 0.4, ln S_h 0.3, ln k 0.12, ln eta_c 0.7), about 5 K for one good flank reading. Best
// read on the shaded side, a clean dusted bar, flank half-way up, three bars a belt, within two minutes of
// stopping. Pure functions.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "loamway/base/units.h"
#include "loamway/belt/bar_heat.h"
#include "loamway/belt/trip.h"

namespace loamway {

/// Of ln S_q, until a reading has settled it.
constexpr double heat_scale_prior_sd = 0.4;

enum class ReadingPlace { flank, tip };

struct HeatReading {
    ReadingPlace place = ReadingPlace::flank;
    Duration after_stop;
    Temperature value;
    double sd_k = 2.0;
};

/// ln S_q, ln S_h, ln k and ln eta_c: standard deviations and sensitivities in kelvin a unit.
constexpr std::size_t heat_parameter_count = 4;
using HeatVector = std::array<double, heat_parameter_count>;

struct HeatUncertainty {
    HeatVector core{};                 // of the core at the stop
    std::vector<HeatVector> readings;  // of each reading
    HeatVector sd{};                   // once the readings are in
    double core_sd_before_k = 0.0, core_sd_k = 0.0;
};

struct HeatCalibration {
    /// Why the readings were not used; the rest then is what was believed before.
    std::optional<std::string> refused;
    double scale = 1.0;                                          // S_q, to be used as HeatScales::heat
    double log_scale = 0.0, log_scale_sd = heat_scale_prior_sd;  // of S_q alone: too optimistic for the core
    std::vector<Temperature> predicted_before, predicted_after;
    Temperature core_before, core_after;  // at the stop
    double core_sd_k = 0.0;               // joint
};

/// `segments` lead up to the stop at which was read; a stop after the last one is left out. The scale in
/// `options` is the prior's middle, normally one. Throws as run_trip does.
[[nodiscard]] HeatCalibration calibrate_heat(const Machine& machine, const WorkingState& state,
                                             const Conditions& conditions,
                                             const std::vector<TripSegment>& segments,
                                             const std::vector<HeatReading>& readings,
                                             const TripOptions& options = {}, BarSolver solver = {});

/// How well readings of that kind would settle the four parameters; their values do not matter.
[[nodiscard]] HeatUncertainty heat_uncertainty(const Machine& machine, const WorkingState& state,
                                               const Conditions& conditions,
                                               const std::vector<TripSegment>& segments,
                                               const std::vector<HeatReading>& readings,
                                               const TripOptions& options = {}, BarSolver solver = {});

}  // namespace loamway

#endif
