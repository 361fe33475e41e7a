// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/belt_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "belt_tally.h"
#include "loamway/base/error.h"

namespace loamway {

namespace {

constexpr double one_bar_sd_mm = 0.30;  // of one height measured (assumption, as in wear_calibration.h)
constexpr double to_five_percent = 1.6449;
constexpr double new_bar_sd_mm = 1.0;          // maker's tolerance of a new bar (assumption)
constexpr double hours_for_a_forecast = 10;    // of work noted (assumption)
constexpr double least_share_of_prior = 0.05;  // of an assumed rate (assumption)

Banded banded(double value, double sd) {
    return {value, value - to_five_percent * sd, value + to_five_percent * sd};
}

void estimate(BeltRecord& r) {
    r.wear = calibrate_wear(r.intervals);
    WearVector driven = r.driven_since_survey;
    double start = 0.0, start_sd = 0.0;
    if (r.surveys.empty()) {
        start = r.added.new_bar_mm;
        start_sd = new_bar_sd_mm;
        driven[3] += r.added.hours;  // what came before the ledger counts as field work
    } else {
        start = r.surveys.back().mean_mm;
        start_sd = one_bar_sd_mm / std::sqrt(r.surveys.back().bars);
    }
    const WearForecast worn = r.wear.forecast(driven);
    r.bar_mm = banded(std::max(0.0, start - worn.mm), std::hypot(start_sd, worn.sd));
    r.bar_mm.low = std::max(0.0, r.bar_mm.low);
    const double whole = r.added.new_bar_mm - r.added.worn_mm;
    const auto share = [&](double mm) { return std::clamp((r.added.new_bar_mm - mm) / whole, 0.0, 1.0); };
    r.share_used = {share(r.bar_mm.value), share(r.bar_mm.high), share(r.bar_mm.low)};
    r.money_used = {r.share_used.value * r.added.price, r.share_used.low * r.added.price,
                    r.share_used.high * r.added.price};
}

}  // namespace

BeltsNow BeltRecord::now() const {
    BeltsNow b;
    using Condition = BeltsNow::Condition;
    b.condition = washed && run_in ? Condition::washed : run_in ? Condition::run_in : Condition::not_run_in;
    b.condition_assumed = false;
    b.hours = hours;
    // Where no powder was ever noted, all that was driven counts.
    b.since_lube = Length::from_km(since_lube_km.value_or(hard_km + gravel_km + earth_km));
    b.since_lube_assumed = !since_lube_km;
    b.preconditioned = lubricated_once && !run_in;
    b.bar_height = Length::from_metres(bar_mm.value / 1000);
    return b;
}

KnownWear BeltRecord::known_wear() const {
    KnownWear out;
    if (intervals.empty())
        return out;
    out.rates = wear.wear_rates();
    // A rate that came out at nothing or below cannot be planned with: the least that is believed then.
    const WearRates assumed;
    const auto at_least = [](double rate, double prior) {
        return std::max(rate, least_share_of_prior * prior);
    };
    out.rates.hard_mm_per_km = at_least(out.rates.hard_mm_per_km, assumed.hard_mm_per_km);
    out.rates.gravel_mm_per_km = at_least(out.rates.gravel_mm_per_km, assumed.gravel_mm_per_km);
    out.rates.earth_mm_per_km = at_least(out.rates.earth_mm_per_km, assumed.earth_mm_per_km);
    out.rates.field_mm_per_h = at_least(out.rates.field_mm_per_h, assumed.field_mm_per_h);
    out.rates.concrete_mm_per_km = at_least(out.rates.concrete_mm_per_km, assumed.concrete_mm_per_km);
    out.rates.turn_factor = at_least(out.rates.turn_factor, 1.0);
    WearVector road = driven;
    road[3] = 0.0;
    if (road == WearVector{})
        road[0] = 1.0;
    const WearForecast forecast = wear.forecast(road);
    out.sd_share = forecast.mm > 0 ? std::min(forecast.sd / forecast.mm, out.sd_share) : out.sd_share;
    if (wear.rates[3].mean > 0)
        out.field_sd_share = std::min(wear.rates[3].sd / wear.rates[3].mean, out.field_sd_share);
    out.calibrated = wear.rates[0].learnt();
    return out;
}

std::vector<NotedReading> BeltRecord::noted_readings() const {
    std::vector<NotedReading> out;
    for (const BeltReading& seen : readings) {
        const ReadingNote& note = seen.note;
        NotedReading r;
        r.run = Length::from_km(note.length_km);
        r.speed = Speed::from_kmh(note.speed_kmh);
        r.air = Temperature::from_celsius(note.air_c);
        r.surface = note.surface;
        r.sun = note.sun;
        r.state = note.state;
        WearVector driven_then = seen.driven_since;
        if (surveys.empty() || surveys.front().at > seen.at)
            driven_then[3] += added.hours;
        // A set that was read before it was noted was as high as it is noted to have been new.
        const double known_mm = seen.last_known_mm > 0 ? seen.last_known_mm : added.new_bar_mm;
        const double estimate = known_mm - wear.forecast(driven_then).mm;
        r.bar_height = Length::from_mm(note.bar_mm.value_or(std::clamp(estimate, 1.0, added.new_bar_mm)));
        r.after_stop = Duration::from_minutes(note.after_stop_min);
        r.tip = note.place == "tip";
        r.value = Temperature::from_celsius(note.reading_c);
        r.sd_k = note.sd_c;
        r.place = {fmt::format("event {}", seen.event), {}, {}};
        out.push_back(std::move(r));
    }
    return out;
}

BeltRecord BeltTally::record() const {
    if (!m_was_added)
        throw Error(ErrorKind::not_found, fmt::format("the ledger knows no belts \"{}\" by then", m_r.belts),
                    "loamway ledger show lists those it knows");
    BeltRecord out = m_r;
    estimate(out);
    return out;
}

BeltRecord belt_record(std::span<const Event> events, const std::string& belts) {
    BeltTally tally(belts);
    for (const Event& e : events)
        tally.add(e);
    return tally.record();
}

std::optional<Banded> hours_left(const BeltRecord& r) {
    const double worked = r.field_hours + r.road_hours;
    if (worked < hours_for_a_forecast)
        return std::nullopt;
    WearVector per_hour = r.driven;
    if (per_hour == WearVector{})
        return std::nullopt;
    for (double& x : per_hour)
        x /= worked;
    const WearForecast rate = r.wear.forecast(per_hour);
    if (rate.mm <= 0)
        return std::nullopt;
    const auto left = [&](double mm, double mm_per_hour) {
        return std::max(0.0, mm - r.added.worn_mm) / mm_per_hour;
    };
    const double fast = rate.mm + to_five_percent * rate.sd;
    const double slow = std::max(rate.mm - to_five_percent * rate.sd, rate.mm / 10);
    return Banded{left(r.bar_mm.value, rate.mm), left(r.bar_mm.low, fast), left(r.bar_mm.high, slow)};
}

std::map<std::string, int> removal_counts(std::span<const Event> events) {
    std::map<std::string, int> out;
    for (const Event& e : events)
        if (e.kind == EventKind::removed)
            ++out[read_belts_removed(e.data, fmt::format("event {}", e.id)).cause];
    return out;
}

}  // namespace loamway
