// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/sun.h"

#include <cmath>
#include <numbers>

namespace loamway {

namespace {

constexpr double radians = std::numbers::pi / 180.0;

struct Solar {
    double equation_of_time_min;
    double declination;  // radians
};

/// NOAA Global Monitoring Laboratory, "General Solar Position Calculations": Fourier forms in the
/// fractional year, taken at noon so that one pair of values serves the whole day.
Solar solar_at_noon(int day_of_year) {
    const double g = 2.0 * std::numbers::pi / 365.0 * (day_of_year - 1);
    const double equation = 229.18 * (0.000075 + 0.001868 * std::cos(g) - 0.032077 * std::sin(g) -
                                      0.014615 * std::cos(2 * g) - 0.040849 * std::sin(2 * g));
    const double declination = 0.006918 - 0.399912 * std::cos(g) + 0.070257 * std::sin(g) -
                               0.006758 * std::cos(2 * g) + 0.000907 * std::sin(2 * g) -
                               0.002697 * std::cos(3 * g) + 0.00148 * std::sin(3 * g);
    return {equation, declination};
}

}  // namespace

std::variant<SunTimes, Polar> sun_times(GeoPoint where, int day_of_year, double zenith_deg) {
    const Solar sun = solar_at_noon(day_of_year);
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

}  // namespace loamway
