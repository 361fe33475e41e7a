// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_TIME_RULES_H
#define LOAMWAY_TAGS_TIME_RULES_H

// The grammar behind time_condition.h: text to rules, no evaluation.

#include <optional>
#include <string_view>
#include <vector>

namespace loamway {

/// Both ends included; may run over the turn of the year.
struct DateSpan {
    int from_month = 1, from_day = 1;
    int to_month = 12, to_day = 31;
};

struct ClockEdge {
    enum class Kind { clock, sunrise, sunset, dawn, dusk };
    Kind kind = Kind::clock;
    int minute = 0;
};

struct HourSpan {
    ClockEdge from, to;
};

struct TimeRule {
    std::vector<DateSpan> dates;  // empty: every date
    unsigned weekday_mask = 0;    // bit 0 Sunday; with no bit and no holiday: every weekday
    bool holidays = false;        // PH or SH: whether today is one is not known here
    std::vector<HourSpan> hours;  // empty: all day
    bool off = false;
    bool additional = false;  // joined by a comma: adds to the rules before
};

/// Nothing when any part of the text is not understood.
[[nodiscard]] std::optional<std::vector<TimeRule>> read_time_rules(std::string_view text);

}  // namespace loamway

#endif
