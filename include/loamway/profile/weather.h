// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PROFILE_WEATHER_H
#define LOAMWAY_PROFILE_WEATHER_H

// Air and sun where and while a machine moves, and the ground it moves on.
// Air is one value, or runs through the day between a least and a greatest value, or stands in a table.
// The day's course is that of Parton and Logan 1981 (Agricultural Meteorology 23, 205-216): a sine from the
// time of the least value to sunset, an exponential fall through the night,
//   day    T = low + (high - low) sin(pi m / (Y + 2 a)),  m hours after the least value, Y hours of day
//   night  T = low + (T_sunset - low) (exp(-b n / Z) - exp(-b)) / (1 - exp(-b)),  n hours of Z after sunset
// with a = 1.86 h, b = 2.20 and the least value 0.17 h before sunrise (their figures for 1.5 m above ground,
// from memory). The night is drawn out so that it meets the next morning's least value without a step.
// Sun is the share of a clear noon: Haurwitz 1945, 1.098 sin(h) exp(-0.057 / sin(h)), under a cloud share n
// times 1 - 0.75 n^3.4 (Kasten and Czeplak 1980), both from memory; roads warm with it at once (assumption).
// Values, and a class that never changes once made: share between threads.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/geo.h"
#include "loamway/base/time.h"
#include "loamway/base/units.h"

namespace loamway {

enum class Ground { dry, dusty, moist, wet, frozen };
[[nodiscard]] std::string_view name_of(Ground g);

/// The least and the greatest air temperature of a day.
struct AirRange {
    Temperature low, high;
};

/// One line of a table of the air; `cloud` 0 clear .. 1 overcast.
struct AirRow {
    Instant at;
    Temperature air;
    std::optional<double> cloud;
};

/// Reads comma-separated text whose first line names the columns time, air_c and, if wanted, cloud:
///   time,air_c,cloud
///   2026-07-14T05:00,11.5,0.2
/// Times as "2026-07-14T05:00", in `zone` unless they carry an offset, each later than the one before and at
/// most 6 hours after it; two lines at least. Values between are taken on a straight line. Every fault is an
/// input Error with file and line.
[[nodiscard]] std::vector<AirRow> parse_air_csv(std::string_view text, const std::string& file,
                                                const TimeZone& zone);

struct Conditions {
    Temperature air = Temperature::from_celsius(20);  // where neither of the next two is given
    bool air_assumed = true;
    std::optional<AirRange> air_range;
    std::vector<AirRow> air_table;
    std::string air_file;  // where the table was read from
    Ground ground = Ground::dry;
    bool ground_assumed = true;
    /// 0 night or overcast .. 1 clear noon. Assumed: where a place and a time are known it is worked out from
    /// the sun's position and the clouds instead.
    double sun = 0.5;
    bool sun_assumed = true;
    double cloud = 0.5;  // where the table has none
    bool cloud_assumed = true;
};

struct AirAndSun {
    Temperature air;
    double sun = 0.0;
};

class Weather {
public:
    Weather(Conditions conditions, GeoPoint where);

    [[nodiscard]] AirAndSun at(Instant t) const;
    /// False where a table has ended or not begun; its nearest line stands then.
    [[nodiscard]] bool covers(Instant t) const;
    /// The greatest air temperature between two times.
    [[nodiscard]] Temperature warmest(Instant from, Instant to) const;

    /// Time in steps of half an hour, for models that keep what belongs to one state of the weather. Always
    /// the same slot where the weather does not change. Air and sun of a slot are those of its middle.
    [[nodiscard]] std::int64_t slot(Instant t) const;
    [[nodiscard]] AirAndSun in_slot(std::int64_t slot) const;
    [[nodiscard]] const Conditions& conditions() const { return m_conditions; }

private:
    [[nodiscard]] Temperature air_at(Instant t) const;
    [[nodiscard]] double sun_at(Instant t) const;
    [[nodiscard]] double cloud_at(Instant t) const;
    Conditions m_conditions;
    GeoPoint m_where;
    bool m_changes;
};

/// Air at `t` on a day with that least and greatest value, at that place.
[[nodiscard]] Temperature air_through_the_day(const AirRange& range, GeoPoint where, Instant t);
/// Share of a clear noon's sun.
[[nodiscard]] double sun_share(GeoPoint where, Instant t, double cloud);

}  // namespace loamway

#endif
