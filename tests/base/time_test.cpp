// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/time.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <string>

#include "loamway/base/error.h"

namespace loamway {
namespace {

const TimeZone utc;

std::string complaint(const char* text) {
    try {
        static_cast<void>(parse_time(text, utc));
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        return e.what();
    }
    return "none";
}

TEST(time_zone, utc_needs_no_name) {
    EXPECT_EQ(utc.name(), "UTC");
    EXPECT_EQ(TimeZone("UTC").local({0}).utc_offset_minutes, 0);
    EXPECT_EQ(TimeZone("Etc/UTC").local({0}).hour, 0);
}

TEST(time_zone, unknown_name_is_an_input_error_naming_the_nearest) {
    try {
        const TimeZone zone("Europe/Berln");
        FAIL() << zone.name();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        EXPECT_STREQ(e.what(), "time zone \"Europe/Berln\" is not known (did you mean \"Europe/Berlin\"?)");
    }
    EXPECT_THROW(TimeZone(""), Error);
    EXPECT_THROW(TimeZone("../../etc/passwd"), Error);
}

TEST(time_zone, local_fields) {
    // 2026-07-14 12:00 UTC was a Tuesday, day 195 of the year.
    const Instant noon{1784030400};
    const LocalTime berlin = TimeZone("Europe/Berlin").local(noon);
    EXPECT_EQ(berlin.year, 2026);
    EXPECT_EQ(berlin.month, 7);
    EXPECT_EQ(berlin.day, 14);
    EXPECT_EQ(berlin.hour, 14);
    EXPECT_EQ(berlin.minute, 0);
    EXPECT_EQ(berlin.second, 0);
    EXPECT_EQ(berlin.weekday, 2);
    EXPECT_EQ(berlin.day_of_year, 195);
    EXPECT_EQ(berlin.utc_offset_minutes, 120);
    EXPECT_EQ(TimeZone("Asia/Kolkata").local(noon).utc_offset_minutes, 330);
    EXPECT_EQ(TimeZone("America/Chicago").local(noon).hour, 7);
}

TEST(time_zone, weekday_zero_is_sunday) {
    EXPECT_EQ(utc.local(parse_time("2026-07-12T00:00Z", utc)).weekday, 0);
    EXPECT_EQ(utc.local(parse_time("2026-07-18T23:59Z", utc)).weekday, 6);
    EXPECT_EQ(utc.local({0}).weekday, 4);
    EXPECT_EQ(utc.local({-1}).weekday, 3);
    EXPECT_EQ(utc.local({-1}).year, 1969);
}

TEST(time_zone, skipped_hour_moves_on_and_doubled_hour_is_the_earlier) {
    const TimeZone berlin("Europe/Berlin");
    // Clocks went from 02:00 to 03:00 on 2025-03-30 and from 03:00 back to 02:00 on 2025-10-26.
    EXPECT_EQ(format_rfc3339(parse_time("2025-03-30T02:30", berlin), berlin), "2025-03-30T03:00:00+02:00");
    EXPECT_EQ(format_rfc3339(parse_time("2025-10-26T02:30", berlin), berlin), "2025-10-26T02:30:00+02:00");
    EXPECT_EQ(format_rfc3339(parse_time("2025-10-26T02:30+01:00", berlin), berlin),
              "2025-10-26T02:30:00+01:00");
}

// A plan left at 02:30 and arrived at 02:15.
TEST(time_zone, an_hour_that_comes_twice_says_which) {
    const TimeZone berlin("Europe/Berlin");
    const auto clock = [](const char* text, const TimeZone& zone) {
        return format_clock(parse_time(text, zone), zone);
    };
    EXPECT_EQ(clock("2025-10-26T02:30+02:00", berlin), "02:30+02:00");
    EXPECT_EQ(clock("2025-10-26T02:15+01:00", berlin), "02:15+01:00");
    EXPECT_EQ(clock("2025-10-26T01:59", berlin), "01:59");
    EXPECT_EQ(clock("2025-10-26T03:00", berlin), "03:00");
    EXPECT_EQ(clock("2025-10-26T02:30Z", utc), "02:30");
    EXPECT_EQ(clock("2025-11-02T01:30-06:00", TimeZone("America/Chicago")), "01:30-06:00");
}

TEST(time_zone, fields_lead_back_to_the_instant) {
    for (const char* name :
         {"UTC", "Europe/Berlin", "America/Chicago", "Australia/Lord_Howe", "Pacific/Apia"}) {
        const TimeZone zone(name);
        // Steps of 7 h 13 through 2025; the doubled hour alone may lead to the earlier of its two instants.
        for (std::int64_t t = 1735689600; t < 1767225600; t += 25980) {
            const Instant back = zone.instant(zone.local({t}));
            EXPECT_TRUE(back.unix_seconds == t || t - back.unix_seconds == 3600 ||
                        t - back.unix_seconds == 1800)
                << name << " " << t;
        }
    }
}

TEST(time_zone, refuses_fields_that_do_not_exist) {
    LocalTime t;
    t.month = 2;
    t.day = 30;
    EXPECT_THROW(static_cast<void>(utc.instant(t)), Error);
    t.month = 300;
    EXPECT_THROW(static_cast<void>(utc.instant(t)), Error);
    t.month = -2;
    EXPECT_THROW(static_cast<void>(utc.instant(t)), Error);
    EXPECT_THROW(static_cast<void>(utc.local({std::int64_t{1} << 60})), Error);
    EXPECT_THROW(static_cast<void>(utc.local({-(std::int64_t{1} << 60)})), Error);
}

TEST(parse_time, forms) {
    const TimeZone berlin("Europe/Berlin");
    EXPECT_EQ(parse_time("2026-07-14T14:00", utc).unix_seconds, 1784037600);
    EXPECT_EQ(parse_time("2026-07-14T14:00:30", utc).unix_seconds, 1784037630);
    EXPECT_EQ(parse_time("2026-07-14T14:00", berlin).unix_seconds, 1784030400);
    EXPECT_EQ(parse_time("2026-07-14T14:00Z", berlin).unix_seconds, 1784037600);
    EXPECT_EQ(parse_time("2026-07-14T14:00:00+02:00", utc).unix_seconds, 1784030400);
    EXPECT_EQ(parse_time("2026-07-14T14:00:00-05:30", utc).unix_seconds, 1784037600 + 5 * 3600 + 1800);
    EXPECT_EQ(parse_time("2026-07-14T14:00:00.987Z", utc).unix_seconds, 1784037600);
    EXPECT_EQ(parse_time("2024-02-29T00:00Z", utc).unix_seconds, 1709164800);
}

TEST(parse_time, everything_else_is_an_input_error) {
    for (const char* text : {"",
                             "2026",
                             "2026-07-14",
                             "2026-07-14T",
                             "2026-07-14T14",
                             "2026-07-14T1400",
                             "26-07-14T14:00",
                             "2026-7-14T14:00",
                             "2026-07-14 14:00",
                             "2026-07-14T14:00:",
                             "2026-07-14T14:00:0",
                             "2026-07-14T14:00x",
                             "2026-07-14T14:00:00.",
                             "2026-07-14T14:00+2",
                             "2026-07-14T14:00+02",
                             "2026-07-14T14:00+0200",
                             "2026-07-14T14:00+24:00",
                             "2026-07-14T14:00+02:60",
                             "2026-07-14T14:00ZZ",
                             " 2026-07-14T14:00",
                             "+026-07-14T14:00",
                             "tomorrow"})
        EXPECT_EQ(
            complaint(text),
            fmt::format("\"{}\" is no time (write YYYY-MM-DDTHH:MM, with Z or an offset such as +02:00 when "
                        "it is not local time)",
                        text));
    for (const char* text :
         {"2026-13-01T00:00", "2026-00-01T00:00", "2026-02-29T00:00", "2026-07-32T00:00", "2026-07-00T00:00",
          "2026-07-14T24:00", "2026-07-14T14:60", "2026-07-14T14:00:60", "0000-01-01T00:00"})
        EXPECT_EQ(
            complaint(text),
            fmt::format(
                "the date or the clock time in \"{}\" does not exist (months are 01 to 12, hours 00 to 23, minutes "
                "and seconds 00 to 59)",
                text));
}

TEST(format_time, rfc3339_and_clock) {
    const Instant t{1784030400};
    EXPECT_EQ(format_rfc3339(t, utc), "2026-07-14T12:00:00Z");
    EXPECT_EQ(format_rfc3339(t, TimeZone("Europe/Berlin")), "2026-07-14T14:00:00+02:00");
    EXPECT_EQ(format_rfc3339(t, TimeZone("America/St_Johns")), "2026-07-14T09:30:00-02:30");
    EXPECT_EQ(format_clock(t, TimeZone("Europe/Berlin")), "14:00");
    EXPECT_EQ(format_clock({t.unix_seconds + 329}, utc), "12:05");
    EXPECT_EQ(format_clock({t.unix_seconds + 330}, utc), "12:06");
    EXPECT_EQ(format_clock({-31}, utc), "23:59");
    EXPECT_EQ(format_clock({-30}, utc), "00:00");
}

// Old local mean times have seconds in their offset, which RFC 3339 cannot write.
TEST(format_time, text_names_the_same_instant_in_any_year) {
    const TimeZone berlin("Europe/Berlin");
    for (std::int64_t t = -3000000000; t < 3000000000; t += 86400 * 97 + 12345)
        EXPECT_EQ(parse_time(format_rfc3339({t}, berlin), utc).unix_seconds, t);
}

TEST(format_time, duration) {
    EXPECT_EQ(format_duration(Duration::from_minutes(25)), "25 min");
    EXPECT_EQ(format_duration(Duration::from_minutes(110)), "1 h 50");
    EXPECT_EQ(format_duration(Duration::from_seconds(3599)), "1 h 00");
    EXPECT_EQ(format_duration(Duration::from_seconds(29)), "0 min");
    EXPECT_EQ(format_duration(Duration::from_hours(26.1)), "26 h 06");
    EXPECT_EQ(format_duration(Duration::from_minutes(-5)), "-5 min");
    EXPECT_THROW(static_cast<void>(format_duration(Duration::from_hours(1) * (0.0 / 0.0))), Error);
}

TEST(instant, adds_and_subtracts_seconds) {
    const Instant t{1000};
    EXPECT_EQ((t + Duration::from_seconds(90.4)).unix_seconds, 1090);
    EXPECT_EQ((t + Duration::from_seconds(-0.6)).unix_seconds, 999);
    EXPECT_DOUBLE_EQ((Instant{1090} - t).seconds(), 90.0);
    EXPECT_GT(now(), parse_time("2025-01-01T00:00Z", utc));
}

}  // namespace
}  // namespace loamway
