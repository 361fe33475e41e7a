// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_SUN_H
#define LOAMWAY_BASE_SUN_H

// Sunrise, sunset and the sun's height by the low-accuracy solar equations that NOAA publishes (Fourier forms
// for declination and equation of time); good to about two minutes below 65 degrees of latitude.

#include <variant>

#include "loamway/base/geo.h"
#include "loamway/base/time.h"

namespace loamway {

enum class Polar { day, night };
struct SunTimes {
    double rise_utc_min = 0.0;  // minutes after 00:00 UTC of that day; may be negative or above 1440
    double set_utc_min = 0.0;
};
constexpr double sun_zenith_official = 90.833;

[[nodiscard]] std::variant<SunTimes, Polar> sun_times(GeoPoint where, int day_of_year,
                                                      double zenith_deg = sun_zenith_official);

/// Day of the year in UTC, from 1.
[[nodiscard]] int utc_day_of_year(Instant at);
/// Height of the sun's middle above the horizon in degrees, negative at night; without refraction.
[[nodiscard]] double sun_elevation_deg(GeoPoint where, Instant at);

}  // namespace loamway

#endif
