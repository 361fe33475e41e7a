// SPDX-License-Identifier: Apache-2.0
#include "loamway/belt/learnt_heat.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "loamway/base/error.h"
#include "loamway/belt/heat_calibration.h"

namespace loamway {
namespace {

constexpr double prior_sd = heat_scale_prior_sd;
constexpr double apart_in_sd = 2.5;  // readings further apart than this contradict each other (assumption)

/// What one reading alone says of ln S_q, the prior taken out.
struct Answer {
    double log_scale, weight;
};

HeatCalibration calibrate(const Machine& machine, const NotedReading& r) {
    TripSegment s;
    s.length = r.run;
    s.speed = r.speed;
    s.surface = road_surface_named(r.surface).value_or(RoadSurface::asphalt);
    s.air = r.air;
    s.sun = r.sun;
    TripOptions options;
    options.belts.bar_height = r.bar_height;
    const HeatReading reading{r.tip ? ReadingPlace::tip : ReadingPlace::flank, r.after_stop, r.value, r.sd_k};
    return calibrate_heat(machine, machine.state(r.state), {}, {s}, {reading}, options);
}

std::string where(const ErrorPlace& place) {
    if (place.file.empty())
        return "reading: ";
    return place.line ? fmt::format("{}:{}: ", place.file, *place.line) : fmt::format("{}: ", place.file);
}

/// Nobody knows which of them is wrong: the band stays what it was, around the hotter of what they say
/// together and what was assumed.
void take_none(KnownHeat& heat) {
    KnownHeat without;
    without.refused = std::move(heat.refused);
    without.scale = std::max(without.scale, heat.scale);
    without.notes.push_back(fmt::format(
        "{} readings contradict each other and settle nothing (bars are taken at {:.2f} times the heat assumed): look "
        "at road crown, sun side and steering first, and read again on level road in shade",
        heat.used, without.scale));
    heat = std::move(without);
}

}  // namespace

KnownHeat learn_heat(const Machine& machine, const std::vector<NotedReading>& readings) {
    KnownHeat out;
    std::vector<Answer> answers;
    for (const NotedReading& r : readings) {
        const HeatCalibration c = calibrate(machine, r);
        if (c.refused) {
            out.refused.push_back(where(r.place) + *c.refused);
            continue;
        }
        const double precision = 1.0 / (c.log_scale_sd * c.log_scale_sd);
        const double weight = precision - 1.0 / (prior_sd * prior_sd);
        answers.push_back({c.log_scale * precision / weight, weight});
        out.core_sd_k = out.used == 0 ? c.core_sd_k : std::min(out.core_sd_k, c.core_sd_k);
        ++out.used;
    }
    if (answers.empty())
        return out;
    double precision = 1.0 / (prior_sd * prior_sd), pull = 0.0;
    for (const Answer& a : answers) {
        precision += a.weight;
        pull += a.weight * a.log_scale;
    }
    const double log_scale = pull / precision;
    out.scale = std::exp(log_scale);
    out.log_sd = 1.0 / std::sqrt(precision);
    const bool contradict =
        answers.size() > 1 && std::any_of(answers.begin(), answers.end(), [&](const Answer& a) {
            return std::abs(a.log_scale - log_scale) * std::sqrt(a.weight) > apart_in_sd;
        });
    if (contradict)
        take_none(out);
    return out;
}

}  // namespace loamway
