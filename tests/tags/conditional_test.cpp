// SPDX-License-Identifier: Apache-2.0
// Conditional values: clauses, comparisons, and the hours, days and dates of the opening-hours notation.

#include <gtest/gtest.h>

#include <string>

#include "loamway/tags/access.h"
#include "support/tag_samples.h"

namespace loamway {
namespace {

ConditionalReading read(std::string_view raw, const Moment& moment = test::sample_moment()) {
    return read_conditional("yes", raw, test::sample_machine(), moment);
}

// "no" when the condition holds, "yes" when not, "verify" when it cannot be decided.
std::string holds(const std::string& condition, const Moment& moment = test::sample_moment()) {
    const ConditionalReading reading = read("no @ (" + condition + ")", moment);
    if (!reading.flags.empty()) {
        EXPECT_EQ(reading.value, "yes");
        return "verify";
    }
    return reading.value;
}

Moment at(int month, int day, int weekday, int hour, int minute = 0) {
    Moment m = test::sample_moment();
    m.time->month = month;
    m.time->day = day;
    m.time->weekday = weekday;
    m.time->hour = hour;
    m.time->minute = minute;
    return m;
}

TEST(Conditional, ClausesOfTheModel) {
    EXPECT_EQ(read("yes @ (Nov-Feb); no @ (weight>10)").value, "no");
    EXPECT_EQ(read("no @ (weight>10); yes @ (Nov-Feb)").value, "yes");  // the later match overrides
    EXPECT_EQ(read("no @ (22:00-06:00)").value, "yes");
    EXPECT_EQ(read("no@(weight>7.5);").value, "no");
    EXPECT_EQ(read("no @ weight>7.5").value, "no");
    EXPECT_EQ(read("no @ ( weight > 7.5 and Tu )").value, "no");
    EXPECT_EQ(read("no @ (weight>7.5) AND (Tu)").value, "no");
}

TEST(Conditional, AnUndecidedClauseThatIsOverriddenIsSilent) {
    EXPECT_TRUE(read("no @ wet; yes @ (Nov-Feb)").flags.empty());
    EXPECT_EQ(read("yes @ (Nov-Feb); no @ wet").flags, std::vector<std::string>{"verify:no @ wet"});
}

TEST(Conditional, OnePartThatFailsDecides) {
    EXPECT_EQ(holds("weight>20 AND destination"), "yes");
    EXPECT_EQ(holds("weight>7.5 AND destination"), "verify");
}

TEST(Conditional, Comparisons) {
    EXPECT_EQ(holds("weight>18"), "yes");
    EXPECT_EQ(holds("weight>=18"), "no");
    EXPECT_EQ(holds("weight<18"), "yes");
    EXPECT_EQ(holds("weight<=18"), "no");
    EXPECT_EQ(holds("weight>7500 kg"), "no");
    EXPECT_EQ(holds("weight=18"), "verify");
    EXPECT_EQ(holds("weight>heavy"), "verify");
    EXPECT_EQ(holds("height>3.65"), "no");  // with the margin
    EXPECT_EQ(holds("height>3.8"), "yes");
    EXPECT_EQ(holds("width>2.55 m"), "no");
    EXPECT_EQ(holds("length>12"), "yes");
    EXPECT_EQ(holds("axleload>8"), "verify");  // a track has no axle
    EXPECT_EQ(holds("trailers>1"), "verify");
    // The permitted mass is at least the actual one.
    EXPECT_EQ(holds("weightrating>7.5"), "no");
    EXPECT_EQ(holds("weightrating>26"), "verify");
    EXPECT_EQ(holds("weightrating<12"), "yes");
}

TEST(Conditional, UnknownMeasuresAreNotDecided) {
    VehicleView bare;
    for (const char* raw : {"no @ (weight>7.5)", "no @ (height>3)", "no @ (width>3)", "no @ (length>3)"})
        EXPECT_EQ(read_conditional("yes", raw, bare, test::sample_moment()).flags.size(), 1u) << raw;
}

TEST(Conditional, AxleLoadOfATruck) {
    EXPECT_EQ(read_conditional("yes", "no @ (axleload>8)", test::sample_truck(), Moment()).value, "no");
}

TEST(Conditional, HoursOverMidnight) {
    EXPECT_EQ(holds("22:00-06:00", at(11, 3, 2, 23)), "no");
    EXPECT_EQ(holds("22:00-06:00", at(11, 3, 2, 5, 59)), "no");
    EXPECT_EQ(holds("22:00-06:00", at(11, 3, 2, 6)), "yes");
    EXPECT_EQ(holds("22:00-30:00", at(11, 3, 2, 5)), "no");
    // Friday night ends on Saturday morning, Saturday night is none of it.
    EXPECT_EQ(holds("Fr 22:00-06:00", at(11, 7, 6, 5)), "no");
    EXPECT_EQ(holds("Fr 22:00-06:00", at(11, 7, 6, 23)), "yes");
    EXPECT_EQ(holds("Fr 22:00-06:00", at(11, 6, 5, 5)), "yes");
    EXPECT_EQ(holds("00:00-24:00"), "no");
    EXPECT_EQ(holds("24/7"), "no");
}

TEST(Conditional, NightBeforeTheFirstOfAMonth) {
    // 1 March 2026, 02:00: the night began on 28 February.
    Moment m = at(3, 1, 0, 2);
    EXPECT_EQ(holds("Feb 28 22:00-06:00", m), "no");
    EXPECT_EQ(holds("Feb 29 22:00-06:00", m), "yes");
    m.time->year = 2028;  // a leap year
    EXPECT_EQ(holds("Feb 29 22:00-06:00", m), "no");
    EXPECT_EQ(holds("Dec 31 22:00-06:00", at(1, 1, 4, 2)), "no");
}

TEST(Conditional, WeekdaysAndDates) {
    EXPECT_EQ(holds("Mo,We,Fr"), "yes");
    EXPECT_EQ(holds("Mo-We,Sa"), "no");
    EXPECT_EQ(holds("Sa-Tu"), "no");
    EXPECT_EQ(holds("mo-fr 08:00-09:00"), "no");
    EXPECT_EQ(holds("Jan,Nov"), "no");
    EXPECT_EQ(holds("Nov 3"), "no");
    EXPECT_EQ(holds("Nov 4-20"), "yes");
    EXPECT_EQ(holds("Nov 1,3"), "no");
    EXPECT_EQ(holds("Nov 15-Mar 31"), "yes");
    EXPECT_EQ(holds("Oct 15-Mar 31: Tu 08:00-12:00"), "no");
    EXPECT_EQ(holds("Dec 24-Jan 6", at(1, 2, 5, 12)), "no");
    EXPECT_EQ(holds("Nov 07:00-09:00"), "no");
    EXPECT_EQ(holds("Mo-Fr 06:00-07:00,08:00-09:00"), "no");
}

TEST(Conditional, RulesJoined) {
    EXPECT_EQ(holds("Mo-Fr 06:00-07:00, Tu 08:00-09:00"), "no");
    EXPECT_EQ(holds("Mo-Su 06:00-22:00; Tu 10:00-12:00"), "yes");  // the later rule rules its day
    EXPECT_EQ(holds("Mo-Su 06:00-22:00; Sa off"), "no");
    EXPECT_EQ(holds("Mo-Su 06:00-22:00; Tu off"), "yes");
    EXPECT_EQ(holds("Tu 08:00-09:00;"), "no");
}

TEST(Conditional, HolidaysAreNotKnown) {
    EXPECT_EQ(holds("PH"), "verify");
    EXPECT_EQ(holds("Mo-Fr,PH"), "no");
    EXPECT_EQ(holds("Sa,PH"), "verify");
    EXPECT_EQ(holds("Sa,PH 22:00-06:00"), "yes");  // whatever day it is, not at half past eight
    EXPECT_EQ(holds("Mo-Fr 06:00-22:00; PH off"), "verify");
    EXPECT_EQ(holds("Mo-Fr 16:00-18:00; PH off"), "yes");
}

TEST(Conditional, Sun) {
    Moment night = test::sample_moment();
    night.daylight = false;
    Moment unknown = test::sample_moment();
    unknown.daylight.reset();
    EXPECT_EQ(holds("sunset-sunrise", night), "no");
    EXPECT_EQ(holds("sunrise-sunset", night), "yes");
    EXPECT_EQ(holds("sunset-sunrise", unknown), "verify");
    EXPECT_EQ(holds("sunrise-sunset"), "no");
    EXPECT_EQ(holds("dusk-dawn"), "yes");
    EXPECT_EQ(holds("dusk-dawn", night), "verify");  // it might be twilight
    EXPECT_EQ(holds("dawn-dusk"), "no");
    EXPECT_EQ(holds("sunset-06:00"), "verify");
    EXPECT_EQ(holds("sunset+00:30-sunrise"), "verify");
}

TEST(Conditional, Rain) {
    Moment m = test::sample_moment();
    m.wet = true;
    EXPECT_EQ(read("no @ wet", m).value, "no");
    m.wet = false;
    EXPECT_TRUE(read("no @ wet", m).flags.empty());
    EXPECT_EQ(read("no @ wet", m).value, "yes");
}

TEST(Conditional, WithoutATimeEveryTimeConditionIsToBeVerified) {
    for (const char* raw : {"Nov-Mar", "Mo-Fr", "07:00-09:00", "Dec 24", "sunset-sunrise"})
        EXPECT_EQ(holds(raw, Moment()), "verify") << raw;
}

TEST(Conditional, WhatIsNotUnderstoodIsToBeVerified) {
    for (const char* raw : {"",
                            "winter",
                            "school holidays",
                            "2026 Nov 3",
                            "week 45",
                            "Tu[1]",
                            "Nov 32",
                            "08:60-09:00",
                            "8-9",
                            "07:00-",
                            "07:00",
                            "0700-0900",
                            "Mo-",
                            "Mo - Fr 8am-9am",
                            "easter",
                            "Tu 08:00+",
                            "49:00-50:00",
                            "-",
                            ",",
                            ";",
                            "Tu;;",
                            "Tu;  ;Mo",
                            "Monday",
                            "AND",
                            "Tu AND",
                            "snow",
                            "Mo-Xx"})
        EXPECT_EQ(holds(raw), "verify") << raw;
    EXPECT_EQ(holds(std::string(600, ' ') + "Tu" + std::string(600, 'x')), "verify");
}

TEST(Conditional, ClausesThatAreBroken) {
    EXPECT_EQ(read("no").flags, std::vector<std::string>{"verify:no"});
    EXPECT_EQ(read("@ (Tu)").flags.size(), 1u);
    EXPECT_EQ(read("no @ (Tu").flags, std::vector<std::string>{"verify:no @ (Tu"});
    EXPECT_EQ(read("no @ Tu)").flags.size(), 1u);
    EXPECT_TRUE(read("").flags.empty());
    EXPECT_TRUE(read(" ;; ").flags.empty());
    EXPECT_EQ(read("no @ (school\x1b[2J)").flags.front().find('\x1b'), std::string::npos);
}

}  // namespace
}  // namespace loamway
