// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_TIME_H
#define LOAMWAY_BASE_TIME_H

// Points in time (UTC seconds), local calendar fields and time zones from the system's zone database.

#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "loamway/base/units.h"

namespace loamway {

struct Instant {
    std::int64_t unix_seconds = 0;
    friend constexpr auto operator<=>(const Instant&, const Instant&) = default;
};
[[nodiscard]] inline Instant operator+(Instant t, Duration d) {
    const double s = d.seconds();
    return {t.unix_seconds + static_cast<std::int64_t>(s < 0 ? s - 0.5 : s + 0.5)};
}
[[nodiscard]] inline Duration operator-(Instant a, Instant b) {
    return Duration::from_seconds(static_cast<double>(a.unix_seconds - b.unix_seconds));
}

/// Calendar fields in one zone.
struct LocalTime {
    int year = 1970;
    int month = 1;    // 1..12
    int day = 1;      // 1..31
    int hour = 0;     // 0..23
    int minute = 0;   // 0..59
    int second = 0;   // 0..59
    int weekday = 4;  // 0 Sunday .. 6 Saturday
    int day_of_year = 1;
    int utc_offset_minutes = 0;
};

/// A named zone. Throws an input Error for a name the database does not know.
class TimeZone {
public:
    TimeZone();  // UTC
    explicit TimeZone(std::string name);
    [[nodiscard]] const std::string& name() const { return m_name; }
    [[nodiscard]] LocalTime local(Instant t) const;
    /// A local time that does not exist moves on to the next one that does; an ambiguous one is the earlier.
    [[nodiscard]] Instant instant(const LocalTime& t) const;

private:
    std::string m_name;
};

/// "2026-07-14T14:00[:00][Z|+02:00]"; without an offset the time is local to `zone`. Input Error otherwise.
/// Fractions of a second are read and dropped.
[[nodiscard]] Instant parse_time(std::string_view text, const TimeZone& zone);
/// RFC 3339 with the zone's offset, or with Z for UTC: "2026-07-14T14:00:00+02:00".
[[nodiscard]] std::string format_rfc3339(Instant t, const TimeZone& zone);
/// "14:05" in the zone, to the nearest minute, so that beginning and duration add up to the end.
[[nodiscard]] std::string format_clock(Instant t, const TimeZone& zone);
/// "1 h 50" or "25 min"; rounded to the minute.
[[nodiscard]] std::string format_duration(Duration d);
[[nodiscard]] Instant now();

}  // namespace loamway

#endif
