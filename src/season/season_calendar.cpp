// SPDX-License-Identifier: Apache-2.0
#include "season_calendar.h"

#include <algorithm>

namespace loamway {

SeasonCalendar::SeasonCalendar(const WorkDay& day, Instant begin, int days) {
    Instant t = day.next_begin(begin);
    WorkMinute minute = 0;
    for (int i = 0; i < days; ++i) {
        const Instant evening = day.evening(t);
        const auto minutes = static_cast<WorkMinute>((evening.unix_seconds - t.unix_seconds) / 60);
        m_days.push_back({t, minute, minute + minutes});
        minute += minutes;
        t = day.next_begin(evening);
    }
}

std::vector<WorkMinute> SeasonCalendar::day_ends() const {
    std::vector<WorkMinute> out;
    for (const Day& d : m_days)
        out.push_back(d.to);
    return out;
}

WorkMinute SeasonCalendar::from(Instant t) const {
    for (const Day& d : m_days)
        if (const std::int64_t in = (t.unix_seconds - d.opens.unix_seconds + 59) / 60; in <= d.to - d.from)
            return d.from + std::max<WorkMinute>(0, static_cast<WorkMinute>(std::max<std::int64_t>(in, 0)));
    return m_days.back().to + 1;
}

WorkMinute SeasonCalendar::until(Instant t) const {
    WorkMinute out = -1;
    for (const Day& d : m_days)
        if (d.opens <= t)
            out = d.from + static_cast<WorkMinute>(std::min<std::int64_t>(
                               (t.unix_seconds - d.opens.unix_seconds) / 60, d.to - d.from));
    return out;
}

Instant SeasonCalendar::beginning(WorkMinute minute) const {
    for (const Day& d : m_days)
        if (minute < d.to)
            return {d.opens.unix_seconds + 60 * std::int64_t{minute - d.from}};
    return ending(minute);
}

Instant SeasonCalendar::ending(WorkMinute minute) const {
    for (const Day& d : m_days)
        if (minute <= d.to)
            return {d.opens.unix_seconds + 60 * std::int64_t{minute - d.from}};
    const Day& last = m_days.back();
    return {last.opens.unix_seconds + 60 * std::int64_t{last.to - last.from}};
}

}  // namespace loamway
