// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/belt_outlook.h"

#include <algorithm>
#include <array>

namespace loamway {

namespace {

constexpr double weeks_for_a_pace = 4;   // in the ledger (assumption)
constexpr double years_for_a_date = 15;  // beyond, no date is named (assumption)
constexpr double least_gain = 0.02;      // of the standard deviation as a share: less is not worth a survey
constexpr double seconds_per_week = 7 * 86400.0;
constexpr int bars = 10;

struct Candidate {
    const char* what;
    WearVector driven;
};
// Each ends with ten bars measured, having begun with ten bars measured.
constexpr std::array<Candidate, 5> candidates{{
    {"the bars before and after 100 km of paved road", {100, 0, 0, 0, 20}},
    {"the bars before and after 100 km of gravel", {0, 100, 0, 0, 10}},
    {"the bars before and after 100 km of earth roads", {0, 0, 100, 0, 10}},
    {"the bars before and after 50 h of field work", {0, 0, 0, 50, 0}},
    {"the bars before and after 200 sharp turns on paved road", {10, 0, 0, 0, 200}},
}};
// An hour of work where none is noted yet (assumption).
constexpr WearVector usual_hour{3, 1, 0.3, 0.85, 0.6};

/// Only the proportions count.
WearVector mix_of(const BeltRecord& r, WearAim aim) {
    WearVector out = r.driven == WearVector{} ? usual_hour : r.driven;
    if (aim == WearAim::hour_of_work)
        return out;
    out[3] = 0;
    if (out == WearVector{}) {
        out = usual_hour;
        out[3] = 0;
    }
    return out;
}

double share_off(const WearCalibration& c, const WearVector& mix) {
    const WearForecast f = c.forecast(mix);
    return f.mm > 0 ? f.sd / f.mm : 0.0;
}

}  // namespace

bool taken_off_for_good(const BeltRecord& r) {
    return !r.removed_for.empty() && r.removed_for != "season";
}

std::optional<WearEnd> wear_end(const BeltRecord& r, Instant now) {
    const auto left = hours_left(r);
    if (!left || !r.since || taken_off_for_good(r))
        return std::nullopt;
    const double weeks = (now - *r.since).seconds() / seconds_per_week;
    if (weeks < weeks_for_a_pace)
        return std::nullopt;
    WearEnd out;
    out.hours_per_week = (r.field_hours + r.road_hours) / weeks;
    const auto date = [&](double hours) -> std::optional<Instant> {
        const double weeks_left = hours / out.hours_per_week;
        if (weeks_left > years_for_a_date * 52)
            return std::nullopt;
        return now + Duration::from_seconds(weeks_left * seconds_per_week);
    };
    out.at = date(left->value);
    out.earliest = date(left->low);
    out.latest = date(left->high);
    return out;
}

std::vector<MeasurementWorth> worth_measuring(const BeltRecord& r, WearAim aim) {
    if (taken_off_for_good(r))
        return {};
    const WearVector mix = mix_of(r, aim);
    const double now = share_off(r.wear, mix);
    std::vector<MeasurementWorth> out;
    const auto consider = [&](const std::string& what, const WearVector& driven) {
        std::vector<WearInterval> then = r.intervals;
        then.push_back({driven, r.wear.forecast(driven).mm, bars});
        const double off = share_off(calibrate_wear(then), mix);
        if (now - off >= least_gain)
            out.push_back({what, now, off});
    };
    const bool comparable = !r.surveys.empty() && r.surveys.back().bars >= bars;
    if (comparable && r.driven_since_survey != WearVector{})
        consider("the same bars once more, now", r.driven_since_survey);
    for (const Candidate& c : candidates)
        consider(c.what, c.driven);
    std::stable_sort(out.begin(), out.end(), [](const MeasurementWorth& a, const MeasurementWorth& b) {
        return a.sd_then < b.sd_then;
    });
    return out;
}

}  // namespace loamway
