// SPDX-License-Identifier: Apache-2.0
#include "work_day.h"

#include <algorithm>

namespace loamway {

Instant WorkDay::at(const LocalTime& day, int minute, int days_later) const {
    // The calendar day is found from its noon, which no change of the clock moves to another day.
    LocalTime noon = day;
    noon.hour = 12;
    noon.minute = noon.second = 0;
    constexpr int minutes_a_day = 24 * 60;  // 24:00 is the next day's midnight
    LocalTime wanted = m_zone.local(m_zone.instant(noon) +
                                    Duration::from_hours(24.0 * (days_later + minute / minutes_a_day)));
    wanted.hour = minute % minutes_a_day / 60;
    wanted.minute = minute % 60;
    wanted.second = 0;
    return m_zone.instant(wanted);
}

Instant WorkDay::next_begin(Instant t) const {
    const LocalTime local = m_zone.local(t);
    if (t < at(local, m_from, 0))
        return at(local, m_from, 0);
    return t < at(local, m_to, 0) ? t : at(local, m_from, 1);
}

Instant WorkDay::after(Instant t, Duration work) const {
    double left = work.seconds();
    Instant now = t;
    while (left > 0) {
        now = next_begin(now);
        const Instant evening = at(m_zone.local(now), m_to, 0);
        const double today = std::min(left, static_cast<double>(evening.unix_seconds - now.unix_seconds));
        now = now + Duration::from_seconds(today);
        left -= today;
        if (left < 1)
            break;
    }
    return now;
}

}  // namespace loamway
