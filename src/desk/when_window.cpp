// SPDX-License-Identifier: Apache-2.0
#include "when_window.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "loamway/base/error.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

constexpr int hour_min = 60, day_hours = 24;

bool digits(std::string_view s) {
    return !s.empty() && std::all_of(s.begin(), s.end(), [](char c) { return c >= '0' && c <= '9'; });
}
int number(std::string_view s) {
    int v = 0;
    for (const char c : s)
        v = v * 10 + (c - '0');
    return v;
}

// "5", "05", "05:30"; 24:00 is the end of the day.
std::optional<int> minutes_of(std::string_view s) {
    const std::size_t colon = s.find(':');
    const std::string_view hour = s.substr(0, colon);
    const std::string_view minute = colon == std::string_view::npos ? "00" : s.substr(colon + 1);
    if (!digits(hour) || hour.size() > 2 || !digits(minute) || minute.size() != 2)
        return std::nullopt;
    const int at = number(hour) * hour_min + number(minute);
    if (number(minute) >= hour_min || at > day_hours * hour_min)
        return std::nullopt;
    return at;
}

}  // namespace

WhenWindow parse_window(std::string_view text) {
    const std::size_t dash = text.find('-');
    const auto from = minutes_of(text.substr(0, dash));
    const auto to = dash == std::string_view::npos ? std::nullopt : minutes_of(text.substr(dash + 1));
    if (!from || !to)
        throw Error(ErrorKind::input,
                    fmt::format("\"{}\" is no window of hours", printable(std::string(text))),
                    "write 5-21 or 05:00-21:00, in the region's time zone");
    return {*from, *to};
}

std::string window_text(const WhenWindow& w) {
    return fmt::format("{:02d}:{:02d}-{:02d}:{:02d}", w.from_min / hour_min, w.from_min % hour_min,
                       w.to_min / hour_min, w.to_min % hour_min);
}

bool is_day(std::string_view text) {
    return text.size() == 10 && text[4] == '-' && text[7] == '-' && digits(text.substr(0, 4)) &&
           digits(text.substr(5, 2)) && digits(text.substr(8, 2));
}

Instant parse_departure(const std::string& text, const TimeZone& zone) {
    if (is_day(text))
        return parse_time(text + "T00:00", zone);
    const Instant t = parse_time(text, zone);
    constexpr std::size_t behind_date = 10;
    if (text.find_first_of("Zz+-", behind_date) != std::string::npos)
        return t;
    // Read as UTC, a text without offset gives the clock as it was typed.
    const LocalTime typed = TimeZone().local(parse_time(text, TimeZone())), there = zone.local(t);
    if (typed.hour != there.hour || typed.minute != there.minute)
        throw Error(ErrorKind::input,
                    fmt::format("{} does not exist in {}: the clock goes on to {} there", text, zone.name(),
                                format_clock(t, zone)),
                    "give a time before or after the change of the clock");
    return t;
}

}  // namespace loamway
