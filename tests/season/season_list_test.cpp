// SPDX-License-Identifier: Apache-2.0
// Season documents: what is read, what is refused; working minutes and the clock.
#include "loamway/season/season_list.h"

#include <gtest/gtest.h>

#include "../../src/season/season_calendar.h"
#include "loamway/base/error.h"
#include "support/damage.h"

namespace loamway {
namespace {

const std::string red = "[[machine]]\nname = \"Red\"\nmachine = \"m.toml\"\nbase = \"Yard\"\nha_per_h = 4\n";
const std::string bed = "[[low_bed]]\nname = \"Bed\"\ntrailer = \"t.toml\"\nbase = \"Town\"\n";
const std::string job = "[[job]]\nname = \"a\"\nfield = \"F\"\nhours = 3\n";

SeasonList read(const std::string& text) {
    return read_season(parse_toml(text, "s/a.toml"), "s/a.toml");
}
std::string fault(const std::string& text) {
    try {
        (void)read(text);
    } catch (const Error& e) {
        return e.what();
    }
    return "no fault";
}

TEST(ReadSeason, MachinesLowBedsJobsAndRules) {
    const SeasonList list = read(
        "title = \"t\"\ndepart = \"2026-07-13\"\nwork_hours = \"5-21\"\nreturn_to_base = false\n"
        "belts = \"run-in\"\n[conditions]\nair_c = 30\n" +
        red + "belts = \"new\"\nreturn_to_base = true\nstands = \"G\"\nfree = \"2026-07-14T10:00\"\n" + bed +
        job +
        "[[job]]\nname = \"b\"\nfield = \"G\"\nhectares = 12\nearliest = \"2026-07-14\"\n"
        "latest = \"2026-07-15T12:00\"\nmachines = [\"Red\"]\nstate = \"bare\"\n"
        "[[fix]]\njob = \"b\"\nmachine = \"Red\"\nposition = \"last\"\n"
        "[[exclude]]\njob = \"a\"\nlow_bed = \"Bed\"\n");
    EXPECT_EQ(list.day_from_min, 300);
    EXPECT_EQ(list.move.air_c, 30.0);
    ASSERT_EQ(list.machines.size(), 1u);
    EXPECT_EQ(list.machines[0].move.machine, "s/m.toml");
    EXPECT_EQ(list.machines[0].move.belts, "new");
    EXPECT_EQ(list.machines[0].stands, "G");
    EXPECT_TRUE(list.machines[0].returns);
    EXPECT_EQ(list.low_beds.at(0).move.low_bed, "s/t.toml");
    ASSERT_EQ(list.jobs.size(), 2u);
    EXPECT_EQ(list.jobs[0].hours, 3.0);
    EXPECT_EQ(list.jobs[1].field.hectares, 12.0);
    EXPECT_EQ(list.jobs[1].latest->text, "2026-07-15T12:00");
    EXPECT_EQ(list.jobs[1].machines, std::vector<std::size_t>{0});
    EXPECT_EQ(list.fixes.at(0).position, Position::last);
    EXPECT_EQ(list.exclusions.at(0).low_bed, std::size_t{0});
}

TEST(ReadSeason, FaultsNameTheLineAndWhatToDo) {
    const auto expect = [](const std::string& text, const std::string& part) {
        EXPECT_NE(fault(text).find(part), std::string::npos) << fault(text) << "\n  for\n" << text;
    };
    expect(red, "there are no jobs");
    expect(job, "there are no machines");
    expect("tittle = \"x\"\n" + red + job, "s/a.toml:1: unknown key \"tittle\" (did you mean \"title\"?)");
    expect("from = \"x\"\n" + red + job, "from belongs to one move");
    expect("trailer = \"x\"\n" + red + job, "trailer belongs to one move");
    expect(red + "bace = \"Yard\"\n" + job,
           "s/a.toml:6: unknown key \"bace\" in machine[1] (did you mean \"base\"?)");
    expect(red + "from = \"Yard\"\n" + job, "unknown key \"from\" in machine[1]");
    expect("[[machine]]\nname = \"Red\"\nbase = \"Yard\"\n" + job, "nobody says what machine it is");
    expect(red + bed + "machine = \"x\"\n" + job, "unknown key \"machine\" in low_bed[1]");
    expect(red + red + job, "there are two of the name \"Red\"");
    expect(red + job + job, "there are two jobs \"a\"");
    expect(red + job + "latest = \"next week\"\n", "s/a.toml:10: \"next week\" is no time");
    expect(red + job + "machines = [\"Rad\"]\n", "there is no machine \"Rad\" (did you mean \"Red\"?)");
    expect(red + job + "depart = \"2026-07-14\"\n", "unknown key \"depart\" in job[1]");
    expect(red + "[[job]]\nname = \"a\"\nfield = \"F\"\n", "nobody says how much work the job is");
    expect(
        "[[machine]]\nname = \"B\"\nmachine = \"m\"\nbase = \"Y\"\n[[job]]\nname = \"a\"\nfield = \"F\"\nhectares = 3\n",
        "how many hectares an hour \"B\" does");
    expect(red + job + "[[fix]]\nmachine = \"Red\"\n", "a fix names no job");
    expect(red + job + "[[fix]]\njob = \"a\"\n", "nothing is fixed");
    expect(red + job + "[[fix]]\njob = \"a\"\nposition = \"middle\"\n", "position");
    expect(red + job + "[[exclude]]\njob = \"a\"\n", "nothing is excluded");
    expect(red + bed + job + "[[exclude]]\nlow_bed = \"Bed\"\nmode = \"drive\"\n",
           "nothing is driven on a low-bed");
    expect("work_hours = \"20-6\"\n" + red + job, "work_hours end before they begin");
}

TEST(ReadSeason, DamagedDocumentsAreInputErrors) {
    const std::string whole =
        "title = \"t\"\n" + red + bed + job + "[[fix]]\njob = \"a\"\nmachine = \"Red\"\n";
    for (std::size_t cut = 0; cut < whole.size(); ++cut) {
        try {
            (void)read(whole.substr(0, cut));
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::input) << e.what();
        }
    }
}

TEST(SeasonCalendar, MinutesOfWorkAndTheClock) {
    const TimeZone utc;
    const WorkDay day(utc, 6 * 60, 16 * 60);
    const auto at = [&](const char* text) { return parse_time(text, utc); };
    const SeasonCalendar c(day, at("2026-07-13T12:00"), 3);
    EXPECT_EQ(c.day_ends(), (std::vector<WorkMinute>{240, 840, 1440}));
    EXPECT_EQ(c.from(at("2026-07-13T05:00")), 0);
    EXPECT_EQ(c.from(at("2026-07-13T13:00")), 60);
    EXPECT_EQ(c.from(at("2026-07-13T22:00")), 240);
    EXPECT_EQ(c.from(at("2026-07-14T06:30")), 270);
    EXPECT_EQ(c.until(at("2026-07-14T23:59")), 840);
    EXPECT_EQ(c.until(at("2026-07-15T05:00")), 840);
    EXPECT_EQ(c.until(at("2026-07-12T05:00")), -1);
    EXPECT_EQ(c.ending(240), at("2026-07-13T16:00"));
    EXPECT_EQ(c.beginning(240), at("2026-07-14T06:00"));
    EXPECT_EQ(c.beginning(241), at("2026-07-14T06:01"));
    EXPECT_EQ(c.ending(1440), at("2026-07-15T16:00"));
}

}  // namespace
}  // namespace loamway
