// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/sun.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>

namespace loamway {

namespace {

constexpr double radians = std::numbers::pi / 180.0;
constexpr std::int64_t day_s = 86400;

struct Solar {
    double equation_of_time_min;
    double declination;  // radians
};

/// NOAA Global Monitoring Laboratory, "General Solar Position Calculations": Fourier forms in the
/// fractional year. Rise and set take it at noon so that one pair of values serves the whole day.
Solar solar_at(int day_of_year, double hours_after_noon) {
    const double g = 2.0 * std::numbers::pi / 365.0 * (day_of_year - 1 + hours_after_noon / 24.0);
    const double equation = 229.18 * (0.000075 + 0.001868 * std::cos(g) - 0.032077 * std::sin(g) -
                                      0.014615 * std::cos(2 * g) - 0.040849 * std::sin(2 * g));
    const double declination = 0.006918 - 0.399912 * std::cos(g) + 0.070257 * std::sin(g) -
                               0.006758 * std::cos(2 * g) + 0.000907 * std::sin(2 * g) -
                               0.002697 * std::cos(3 * g) + 0.00148 * std::sin(3 * g);
    return {equation, declination};
}

}  // namespace

std::variant<SunTimes, Polar> sun_times(GeoPoint where, int day_of_year, double zenith_deg) {
    const Solar sun = solar_at(day_of_year, 0.0);
    const double lat = where.lat() * radians;
    // cos(hour angle) = above / below; kept apart because below is zero at the poles.
    const double above = std::cos(zenith_deg * radians) - std::sin(lat) * std::sin(sun.declination);
    const double below = std::cos(lat) * std::cos(sun.declination);
    if (above >= below)
        return Polar::night;
    if (above <= -below)
        return Polar::day;
    const double hour_angle_deg = std::acos(above / below) / radians;
    const double noon = 720.0 - 4.0 * where.lon() - sun.equation_of_time_min;
    return SunTimes{noon - 4.0 * hour_angle_deg, noon + 4.0 * hour_angle_deg};
}

int utc_day_of_year(Instant at) {
    using namespace std::chrono;
    const sys_days day = floor<days>(sys_seconds(seconds(at.unix_seconds)));
    const year_month_day date(day);
    return static_cast<int>((day - sys_days(date.year() / January / 1)).count()) + 1;
}

double sun_elevation_deg(GeoPoint where, Instant at) {
    const std::int64_t of_day = ((at.unix_seconds % day_s) + day_s) % day_s;
    const double utc_min = static_cast<double>(of_day) / 60.0;
    const Solar sun = solar_at(utc_day_of_year(at), utc_min / 60.0 - 12.0);
    const double solar_min = utc_min + sun.equation_of_time_min + 4.0 * where.lon();
    const double hour_angle = (solar_min / 4.0 - 180.0) * radians;
    const double lat = where.lat() * radians;
    const double up = std::sin(lat) * std::sin(sun.declination) +
                      std::cos(lat) * std::cos(sun.declination) * std::cos(hour_angle);
    return std::asin(std::clamp(up, -1.0, 1.0)) / radians;
}

}  // namespace loamway
