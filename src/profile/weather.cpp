// SPDX-License-Identifier: Apache-2.0
#include "loamway/profile/weather.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "loamway/base/error.h"
#include "loamway/base/sun.h"

namespace loamway {
namespace {

constexpr std::int64_t slot_s = 1800;
constexpr std::int64_t day_s = 86400;

// Parton and Logan 1981, 1.5 m above ground, from memory.
constexpr double warmest_lag_h = 1.86;
constexpr double night_fall = 2.20;
constexpr double coldest_after_sunrise_h = -0.17;
// Beyond the polar circles a day of none or 24 hours has no sunrise to count from (assumption).
constexpr double shortest_day_h = 2, longest_day_h = 22;

constexpr double minutes_per_degree = 4.0;
constexpr double radians = std::numbers::pi / 180.0;

/// Hours after solar midnight, and how long the day is.
struct SolarClock {
    double hour, day_h;
};

SolarClock solar_clock(GeoPoint where, Instant t) {
    const auto to_solar = static_cast<std::int64_t>(std::lround(where.lon() * minutes_per_degree * 60.0));
    const int day = utc_day_of_year({t.unix_seconds + to_solar});
    double noon_min = 720.0 - minutes_per_degree * where.lon(), day_h = longest_day_h;
    const auto times = sun_times(where, day);
    if (const auto* sun = std::get_if<SunTimes>(&times)) {
        noon_min = (sun->rise_utc_min + sun->set_utc_min) / 2.0;
        day_h = std::clamp((sun->set_utc_min - sun->rise_utc_min) / 60.0, shortest_day_h, longest_day_h);
    } else if (std::get<Polar>(times) == Polar::night) {
        day_h = shortest_day_h;
    }
    const double utc_min = static_cast<double>(((t.unix_seconds % day_s) + day_s) % day_s) / 60.0;
    const double hour = std::fmod((utc_min - noon_min) / 60.0 + 12.0 + 48.0, 24.0);
    return {hour, day_h};
}

}  // namespace

std::string_view name_of(Ground g) {
    switch (g) {
        case Ground::dry:
            return "dry";
        case Ground::dusty:
            return "dusty";
        case Ground::moist:
            return "moist";
        case Ground::wet:
            return "wet";
        case Ground::frozen:
            return "frozen";
    }
    throw Error(ErrorKind::internal, "a ground without a name");
}

Temperature air_through_the_day(const AirRange& range, GeoPoint where, Instant t) {
    const SolarClock clock = solar_clock(where, t);
    const double coldest = 12.0 - clock.day_h / 2.0 + coldest_after_sunrise_h;
    const double sunset = 12.0 + clock.day_h / 2.0;
    const auto by_day = [&](double hour) {
        return std::sin(std::numbers::pi * (hour - coldest) / (clock.day_h + 2.0 * warmest_lag_h));
    };
    double share = 0.0;  // of the way from the least to the greatest
    if (clock.hour >= coldest && clock.hour <= sunset) {
        share = by_day(clock.hour);
    } else {
        const double night_h = 24.0 - (sunset - coldest);
        const double into = clock.hour > sunset ? clock.hour - sunset : clock.hour + 24.0 - sunset;
        const double last = std::exp(-night_fall);
        share = by_day(sunset) * (std::exp(-night_fall * into / night_h) - last) / (1.0 - last);
    }
    return range.low + (range.high - range.low) * share;
}

double sun_share(GeoPoint where, Instant t, double cloud) {
    const double up = std::sin(sun_elevation_deg(where, t) * radians);
    if (up <= 0.0)
        return 0.0;
    const double clear = 1.098 * up * std::exp(-0.057 / up);
    return std::clamp(clear * (1.0 - 0.75 * std::pow(cloud, 3.4)), 0.0, 1.0);
}

Weather::Weather(Conditions conditions, GeoPoint where)
    : m_conditions(std::move(conditions)),
      m_where(where),
      m_changes(m_conditions.air_range || !m_conditions.air_table.empty() || m_conditions.sun_assumed) {}

AirAndSun Weather::at(Instant t) const {
    return {air_at(t), sun_at(t)};
}

bool Weather::covers(Instant t) const {
    const auto& table = m_conditions.air_table;
    return table.empty() || (t >= table.front().at && t <= table.back().at);
}

Temperature Weather::air_at(Instant t) const {
    if (m_conditions.air_range)
        return air_through_the_day(*m_conditions.air_range, m_where, t);
    const auto& table = m_conditions.air_table;
    if (table.empty())
        return m_conditions.air;
    const auto after = std::upper_bound(table.begin(), table.end(), t,
                                        [](Instant at, const AirRow& row) { return at < row.at; });
    if (after == table.begin())
        return table.front().air;
    if (after == table.end())
        return table.back().air;
    const auto before = after - 1;
    return before->air + (after->air - before->air) * ((t - before->at) / (after->at - before->at));
}

double Weather::cloud_at(Instant t) const {
    const auto& table = m_conditions.air_table;
    const auto after = std::upper_bound(table.begin(), table.end(), t,
                                        [](Instant at, const AirRow& row) { return at < row.at; });
    // What was seen last holds until the next look.
    const std::optional<double> seen = table.empty()            ? std::optional<double>()
                                       : after == table.begin() ? table.front().cloud
                                                                : (after - 1)->cloud;
    return seen.value_or(m_conditions.cloud);
}

double Weather::sun_at(Instant t) const {
    return m_conditions.sun_assumed ? sun_share(m_where, t, cloud_at(t)) : m_conditions.sun;
}

Temperature Weather::warmest(Instant from, Instant to) const {
    Temperature most = std::max(air_at(from), air_at(to));
    for (std::int64_t s = from.unix_seconds; s < to.unix_seconds; s += slot_s / 2)
        most = std::max(most, air_at({s}));
    return most;
}

std::int64_t Weather::slot(Instant t) const {
    if (!m_changes)
        return 0;
    return t.unix_seconds >= 0 ? t.unix_seconds / slot_s : -((slot_s - 1 - t.unix_seconds) / slot_s);
}

AirAndSun Weather::in_slot(std::int64_t slot) const {
    return at({slot * slot_s + slot_s / 2});
}

}  // namespace loamway
