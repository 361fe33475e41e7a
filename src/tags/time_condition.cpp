// SPDX-License-Identifier: Apache-2.0
#include "time_condition.h"

#include <algorithm>
#include <array>
#include <optional>
#include <vector>

#include "time_rules.h"

namespace loamway {

namespace {

constexpr int minutes_a_day = 24 * 60;

struct CalendarDay {
    int month, day, weekday;
};

CalendarDay day_before(const LocalTime& t) {
    const int weekday = (t.weekday + 6) % 7;
    if (t.day > 1)
        return {t.month, t.day - 1, weekday};
    const bool leap = (t.year % 4 == 0 && t.year % 100 != 0) || t.year % 400 == 0;
    constexpr std::array<int, 12> lengths{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const int month = t.month == 1 ? 12 : t.month - 1;
    const int length = lengths[static_cast<std::size_t>(month - 1)] + (month == 2 && leap ? 1 : 0);
    return {month, length, weekday};
}

bool date_within(const DateSpan& span, const CalendarDay& day) {
    const int from = span.from_month * 32 + span.from_day;
    const int to = span.to_month * 32 + span.to_day;
    const int at = day.month * 32 + day.day;
    return from <= to ? from <= at && at <= to : at >= from || at <= to;
}

Tri day_matches(const TimeRule& rule, const CalendarDay& day) {
    const bool date =
        rule.dates.empty() || std::any_of(rule.dates.begin(), rule.dates.end(),
                                          [&](const DateSpan& span) { return date_within(span, day); });
    if (!date)
        return Tri::no;
    if (rule.weekday_mask == 0 && !rule.holidays)
        return Tri::yes;
    if ((rule.weekday_mask >> static_cast<unsigned>(day.weekday) & 1u) != 0)
        return Tri::yes;
    return rule.holidays ? Tri::unknown : Tri::no;
}

// Spans between clock times. Such a span that started yesterday may reach into today.
Tri clock_span_matches(int from, int to, int now, Tri today, Tri yesterday) {
    if (to <= from)
        to += minutes_a_day;
    const Tri started_today = tri_and(today, tri(from <= now && now < to));
    const Tri started_yesterday =
        tri_and(yesterday, tri(from <= now + minutes_a_day && now + minutes_a_day < to));
    return tri_or(started_today, started_yesterday);
}

// Daylight is known as "between sunrise and sunset" only; in twilight dusk and dawn stay undecided.
Tri sun_span_matches(const HourSpan& span, const Moment& moment, Tri today, Tri yesterday) {
    using Kind = ClockEdge::Kind;
    const Tri light = tri(moment.daylight);
    const Kind from = span.from.kind;
    const Kind to = span.to.kind;
    if (from == Kind::sunrise && to == Kind::sunset)
        return tri_and(today, light);
    if (from == Kind::dawn && to == Kind::dusk)
        return tri_and(today, light == Tri::yes ? Tri::yes : Tri::unknown);
    // A night belongs to the day on which it began; which half this is, the moment does not say.
    const Tri night_day = today == yesterday ? today : Tri::unknown;
    if (from == Kind::sunset && to == Kind::sunrise)
        return tri_and(night_day, tri_not(light));
    if (from == Kind::dusk && to == Kind::dawn)
        return tri_and(night_day, light == Tri::yes ? Tri::no : Tri::unknown);
    return Tri::unknown;
}

Tri rule_matches(const TimeRule& rule, const Moment& moment, Tri today, Tri yesterday) {
    if (rule.hours.empty())
        return today;
    Tri result = Tri::no;
    for (const HourSpan& span : rule.hours) {
        const bool clock = span.from.kind == ClockEdge::Kind::clock && span.to.kind == ClockEdge::Kind::clock;
        Tri matches = Tri::unknown;
        if (clock && moment.time)
            matches = clock_span_matches(span.from.minute, span.to.minute,
                                         moment.time->hour * 60 + moment.time->minute, today, yesterday);
        else if (!clock)
            matches = sun_span_matches(span, moment, today, yesterday);
        result = tri_or(result, matches);
    }
    return result;
}

bool rules_every_day(const TimeRule& rule) {
    return rule.dates.empty() && rule.weekday_mask == 0 && !rule.holidays;
}

}  // namespace

Tri evaluate_time_condition(std::string_view text, const Moment& moment) {
    const std::optional<std::vector<TimeRule>> rules = read_time_rules(text);
    if (!rules)
        return Tri::unknown;
    Tri result = Tri::no;
    for (const TimeRule& rule : *rules) {
        Tri today = Tri::yes;
        Tri yesterday = Tri::yes;
        if (!rules_every_day(rule)) {
            today = yesterday = Tri::unknown;
            if (moment.time) {
                today = day_matches(rule, {moment.time->month, moment.time->day, moment.time->weekday});
                yesterday = day_matches(rule, day_before(*moment.time));
            }
        }
        const Tri open = rule_matches(rule, moment, today, yesterday);
        if (rule.off) {
            result = tri_and(result, tri_not(open));
        } else if (rule.additional || today == Tri::no) {
            result = tri_or(result, open);
        } else if (today == Tri::yes || result == open) {
            result = open;
        } else {
            result = Tri::unknown;
        }
    }
    return result;
}

}  // namespace loamway
