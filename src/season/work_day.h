// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_WORK_DAY_H
#define LOAMWAY_SRC_SEASON_WORK_DAY_H

// The hours of the day in which work is done, every day the same, in one zone.

#include "loamway/base/time.h"

namespace loamway {

class WorkDay {
public:
    /// Minutes after midnight, the end after the beginning.
    WorkDay(const TimeZone& zone, int from_min, int to_min) : m_zone(zone), m_from(from_min), m_to(to_min) {}
    /// This moment, or the next at which work begins.
    [[nodiscard]] Instant next_begin(Instant t) const;
    /// When the work of that day ends.
    [[nodiscard]] Instant evening(Instant t) const { return at(m_zone.local(t), m_to, 0); }
    /// When so much work is done that is taken up at the next chance.
    [[nodiscard]] Instant after(Instant t, Duration work) const;

private:
    [[nodiscard]] Instant at(const LocalTime& day, int minute, int days_later) const;

    const TimeZone& m_zone;
    int m_from, m_to;
};

}  // namespace loamway

#endif
