// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_SEASON_SEASON_CALENDAR_H
#define LOAMWAY_SRC_SEASON_SEASON_CALENDAR_H

// Working minutes of a season and the clock: the hours of each day joined to one line of minutes.

#include <vector>

#include "loamway/season/season_problem.h"
#include "work_day.h"

namespace loamway {

class SeasonCalendar {
public:
    /// The day of `begin` counts from then on; `days` days in all.
    SeasonCalendar(const WorkDay& day, Instant begin, int days);

    [[nodiscard]] std::vector<WorkMinute> day_ends() const;
    /// The first working minute not before `t`, the last not after it; both within the season.
    [[nodiscard]] WorkMinute from(Instant t) const;
    [[nodiscard]] WorkMinute until(Instant t) const;
    /// Something begins, or ends, at this minute: at an evening the one is next morning, the other is not.
    [[nodiscard]] Instant beginning(WorkMinute minute) const;
    [[nodiscard]] Instant ending(WorkMinute minute) const;

private:
    struct Day {
        Instant opens;
        WorkMinute from, to;
    };
    std::vector<Day> m_days;
};

}  // namespace loamway

#endif
