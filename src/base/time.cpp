// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/time.h"

#include <date/date.h>
#include <date/tz.h>
#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <exception>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

using Seconds = std::chrono::seconds;

constexpr std::string_view utc_name = "UTC";

const date::tzdb& zone_database() {
    try {
        return date::get_tzdb();
    } catch (const std::exception& e) {
        throw Error(ErrorKind::io, fmt::format("the time zone database cannot be read: {}", e.what()),
                    "install the system's tzdata");
    }
}

const date::time_zone* find_zone(const std::string& name) {
    const date::tzdb& database = zone_database();
    try {
        return date::locate_zone(name);
    } catch (const std::exception&) {
        std::vector<std::string_view> names;
        names.reserve(database.zones.size());
        for (const auto& zone : database.zones)
            names.emplace_back(zone.name());
        const std::string near = nearest_name(name, names);
        throw Error(ErrorKind::input, fmt::format("time zone \"{}\" is not known", name),
                    near.empty() ? "write a name such as \"UTC\" or Area/City"
                                 : fmt::format("did you mean \"{}\"?", near));
    }
}

/// Years the calendar functions accept: those that RFC 3339 can write.
date::sys_seconds checked(Instant t) {
    // 0001-01-01 and 10000-01-01, with two days less at each end so that no zone's offset leads outside.
    constexpr std::int64_t two_days = 172800;
    constexpr std::int64_t first = -62135596800 + two_days;
    constexpr std::int64_t end = 253402300800 - two_days;
    if (t.unix_seconds < first || t.unix_seconds >= end)
        throw Error(ErrorKind::input,
                    fmt::format("time {} s since 1970 is outside the years 1 to 9999", t.unix_seconds));
    return date::sys_seconds(Seconds(t.unix_seconds));
}

Seconds offset_at(const std::string& zone, date::sys_seconds t) {
    if (zone == utc_name)
        return Seconds(0);
    return find_zone(zone)->get_info(t).offset;
}

LocalTime fields(date::sys_seconds t, Seconds offset) {
    const date::local_seconds local(t.time_since_epoch() + offset);
    const auto day = date::floor<date::days>(local);
    const date::year_month_day ymd(day);
    const date::hh_mm_ss<Seconds> clock(local - day);
    LocalTime out;
    out.year = static_cast<int>(ymd.year());
    out.month = static_cast<int>(static_cast<unsigned>(ymd.month()));
    out.day = static_cast<int>(static_cast<unsigned>(ymd.day()));
    out.hour = static_cast<int>(clock.hours().count());
    out.minute = static_cast<int>(clock.minutes().count());
    out.second = static_cast<int>(clock.seconds().count());
    out.weekday = static_cast<int>(date::weekday(day).c_encoding());
    const date::local_days new_year(ymd.year() / date::January / 1);
    out.day_of_year = static_cast<int>((day - new_year).count()) + 1;
    out.utc_offset_minutes = static_cast<int>(std::lround(static_cast<double>(offset.count()) / 60.0));
    return out;
}

/// The text after its fields, as parse_time sees it.
struct TimeText {
    LocalTime fields;
    std::optional<int> offset_seconds;
};

/// Reads left to right; each step says whether the text had what was asked.
class TimeReader {
public:
    explicit TimeReader(std::string_view text) : m_rest(text) {}
    bool digits(std::size_t count, int& out) {
        if (m_rest.size() < count)
            return false;
        out = 0;
        for (const char c : m_rest.substr(0, count)) {
            if (c < '0' || c > '9')
                return false;
            out = out * 10 + (c - '0');
        }
        m_rest.remove_prefix(count);
        return true;
    }
    bool one_of(std::string_view wanted) {
        if (m_rest.empty() || wanted.find(m_rest.front()) == std::string_view::npos)
            return false;
        m_rest.remove_prefix(1);
        return true;
    }
    /// ".25": below a second, and left out of an Instant.
    bool fraction() {
        if (!one_of("."))
            return true;
        int ignored = 0;
        if (!digits(1, ignored))
            return false;
        while (digits(1, ignored)) {
        }
        return true;
    }
    [[nodiscard]] bool done() const { return m_rest.empty(); }
    [[nodiscard]] char front() const { return m_rest.empty() ? '\0' : m_rest.front(); }

private:
    std::string_view m_rest;
};

std::optional<TimeText> split(std::string_view text) {
    TimeReader in(text);
    TimeText out;
    LocalTime& f = out.fields;
    if (!(in.digits(4, f.year) && in.one_of("-") && in.digits(2, f.month) && in.one_of("-") &&
          in.digits(2, f.day) && in.one_of("Tt") && in.digits(2, f.hour) && in.one_of(":") &&
          in.digits(2, f.minute)))
        return std::nullopt;
    if (in.one_of(":") && !(in.digits(2, f.second) && in.fraction()))
        return std::nullopt;
    if (in.one_of("Zz")) {
        out.offset_seconds = 0;
    } else if (!in.done()) {
        const int sign = in.front() == '-' ? -1 : 1;
        int hours = 0;
        int minutes = 0;
        if (!(in.one_of("+-") && in.digits(2, hours) && in.one_of(":") && in.digits(2, minutes)) ||
            hours > 23 || minutes > 59)
            return std::nullopt;
        out.offset_seconds = sign * (hours * 3600 + minutes * 60);
    }
    if (!in.done())
        return std::nullopt;
    return out;
}

date::year_month_day date_of(const LocalTime& t) {
    return date::year(t.year) / date::month(static_cast<unsigned>(t.month)) /
           date::day(static_cast<unsigned>(t.day));
}

bool exists(const LocalTime& t) {
    return t.year >= 1 && t.year <= 9999 && t.month >= 1 && t.day >= 1 && date_of(t).ok() && t.hour >= 0 &&
           t.hour <= 23 && t.minute >= 0 && t.minute <= 59 && t.second >= 0 && t.second <= 59;
}

Seconds since_epoch(const LocalTime& t) {
    const date::local_days day(date_of(t));
    return day.time_since_epoch() + std::chrono::hours(t.hour) + std::chrono::minutes(t.minute) +
           Seconds(t.second);
}

/// "+02:00".
std::string offset_text(int minutes) {
    const int size = std::abs(minutes);
    return fmt::format("{}{:02}:{:02}", minutes < 0 ? '-' : '+', size / 60, size % 60);
}

}  // namespace

TimeZone::TimeZone() : m_name(utc_name) {}

TimeZone::TimeZone(std::string name) : m_name(std::move(name)) {
    if (m_name != utc_name)
        static_cast<void>(find_zone(m_name));
}

LocalTime TimeZone::local(Instant t) const {
    const date::sys_seconds at = checked(t);
    return fields(at, offset_at(m_name, at));
}

Instant TimeZone::instant(const LocalTime& t) const {
    if (!exists(t))
        throw Error(ErrorKind::input, fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02} is no date and time",
                                                  t.year, t.month, t.day, t.hour, t.minute, t.second));
    const Seconds local = since_epoch(t);
    if (m_name == utc_name)
        return {local.count()};
    const date::local_info info = find_zone(m_name)->get_info(date::local_seconds(local));
    if (info.result == date::local_info::nonexistent)
        return {info.first.end.time_since_epoch().count()};
    return {(local - info.first.offset).count()};
}

Instant parse_time(std::string_view text, const TimeZone& zone) {
    const auto parsed = split(text);
    if (!parsed)
        throw Error(ErrorKind::input, fmt::format("\"{}\" is no time", text),
                    "write YYYY-MM-DDTHH:MM, with Z or an offset such as +02:00 when it is not local time");
    if (!exists(parsed->fields))
        throw Error(ErrorKind::input,
                    fmt::format("the date or the clock time in \"{}\" does not exist", text),
                    "months are 01 to 12, hours 00 to 23, minutes and seconds 00 to 59");
    if (!parsed->offset_seconds)
        return zone.instant(parsed->fields);
    return {since_epoch(parsed->fields).count() - *parsed->offset_seconds};
}

std::string format_rfc3339(Instant t, const TimeZone& zone) {
    const date::sys_seconds at = checked(t);
    // RFC 3339 has no seconds in the offset: old local mean times are shown with it rounded to the minute,
    // and the clock with it, so that the text still names the same instant.
    const int minutes = fields(at, offset_at(zone.name(), at)).utc_offset_minutes;
    const LocalTime f = fields(at, std::chrono::minutes(minutes));
    const std::string clock = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", f.year, f.month, f.day,
                                          f.hour, f.minute, f.second);
    if (zone.name() == utc_name)
        return clock + "Z";
    return clock + offset_text(minutes);
}

// Where clocks are set back an hour comes twice: then the offset tells one from the other.
std::string format_clock(Instant t, const TimeZone& zone) {
    const LocalTime f = zone.local({t.unix_seconds + 30});
    const std::string clock = fmt::format("{:02}:{:02}", f.hour, f.minute);
    if (zone.name() == utc_name ||
        find_zone(zone.name())->get_info(date::local_seconds(since_epoch(f))).result !=
            date::local_info::ambiguous)
        return clock;
    return clock + offset_text(f.utc_offset_minutes);
}

std::string format_duration(Duration d) {
    if (!(std::abs(d.minutes()) < 1e15))
        throw Error(ErrorKind::internal, "a duration is no number");
    const long long minutes = std::llround(d.minutes());
    const long long size = std::abs(minutes);
    const std::string sign = minutes < 0 ? "-" : "";
    if (size < 60)
        return fmt::format("{}{} min", sign, size);
    return fmt::format("{}{} h {:02}", sign, size / 60, size % 60);
}

Instant now() {
    const auto t = std::chrono::floor<Seconds>(std::chrono::system_clock::now());
    return {t.time_since_epoch().count()};
}

}  // namespace loamway
