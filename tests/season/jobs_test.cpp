// SPDX-License-Identifier: Apache-2.0
// Lists of jobs: what is read, what is refused, how work falls on days and what belts carry along.
#include "loamway/season/jobs.h"

#include <gtest/gtest.h>

#include "../../src/season/belts_on_the_way.h"
#include "../../src/season/work_day.h"
#include "loamway/base/error.h"
#include "support/damage.h"

namespace loamway {
namespace {

constexpr const char* head = "start = \"Yard\"\nmachine = \"m.toml\"\n";
constexpr const char* job = "[[job]]\nname = \"a\"\nfield = \"F\"\nhours = 3\n";

JobList read(const std::string& text) {
    return read_jobs(parse_toml(text, "jobs/a.toml"), "jobs/a.toml");
}
std::string fault(const std::string& text) {
    try {
        (void)read(text);
    } catch (const Error& e) {
        return e.what();
    }
    return "no fault";
}

TEST(ReadJobs, KeysOfAMoveAndOfJobs) {
    const JobList list =
        read(std::string(head) +
             "margin_pct = 10\nbasis = \"marginal\"\nledger = \"l\"\nwork_hours = \"5-22:30\"\n"
             "[conditions]\nair_c = 30\n"
             "[[job]]\nname = \"one\"\nfield = \"North\"\nhectares = 21\nha_per_h = 4.2\n"
             "[[job]]\nname = \"two\"\nhours = 2.5\nfield_l_per_h = 40\nfield_load = 0.9\n"
             "[[what_if]]\nname = \"dear\"\nrates = { fuel = { price_per_l = 2 } }\nbelts = \"new\"\n");
    EXPECT_EQ(list.start, "Yard");
    EXPECT_EQ(list.move.machine, "jobs/m.toml");
    EXPECT_EQ(list.move.ledger, "jobs/l");
    EXPECT_EQ(list.move.air_c, 30.0);
    EXPECT_EQ(list.move.basis, "marginal");
    EXPECT_DOUBLE_EQ(list.margin, 0.1);
    EXPECT_EQ(list.day_from_min, 300);
    EXPECT_EQ(list.day_to_min, 1350);
    ASSERT_EQ(list.jobs.size(), 2u);
    EXPECT_DOUBLE_EQ(list.jobs[0].work.hours(), 5);
    EXPECT_DOUBLE_EQ(list.jobs[0].load, 0.6);
    EXPECT_EQ(list.jobs[1].field, "");
    EXPECT_DOUBLE_EQ(list.jobs[1].fuel_per_h->litres(), 40);
    ASSERT_EQ(list.what_ifs.size(), 1u);
    EXPECT_EQ(list.what_ifs[0].over.belts, "new");
    EXPECT_TRUE(list.what_ifs[0].rates);
    EXPECT_EQ(read(std::string(head) + job).move.basis, "full") << "a quote carries the machine";
}

TEST(ReadJobs, FaultsNameTheLineAndWhatToDo) {
    const std::string h = head;
    EXPECT_NE(fault(h).find("there are no jobs"), std::string::npos);
    EXPECT_NE(fault("machine = \"m\"\n" + std::string(job)).find("start"), std::string::npos);
    EXPECT_NE(fault(h + "[[job]]\nname = \"a\"\nfield = \"F\"\n").find("a.toml:3: nobody says how much work"),
              std::string::npos)
        << fault(h + "[[job]]\nname = \"a\"\nfield = \"F\"\n");
    EXPECT_NE(fault(h + "[[job]]\nname = \"a\"\nhours = 2\nha_per_h = 3\n")
                  .find("a.toml:6: both hours and ha_per_h"),
              std::string::npos);
    EXPECT_NE(fault(h + "from = \"x\"\n" + job).find("a.toml:3: from belongs to one move"),
              std::string::npos);
    EXPECT_NE(
        fault(h + "finsh = \"x\"\n" + job).find("a.toml:3: unknown key \"finsh\" (did you mean \"finish\"?)"),
        std::string::npos)
        << fault(h + "finsh = \"x\"\n" + job);
    EXPECT_NE(fault(h + "name = \"x\"\n" + job).find("unknown key \"name\""), std::string::npos);
    EXPECT_NE(fault(h + job + "depart = \"noon\"\n").find("a.toml:7:"), std::string::npos);
    EXPECT_NE(fault(h + "work_hours = \"20-6\"\n" + job).find("end before they begin"), std::string::npos);
    EXPECT_NE(
        fault(h + job + "[[what_if]]\nname = \"w\"\nmargin_pct = 3\n").find("cannot change in a what_if"),
        std::string::npos);
    EXPECT_NE(fault(h + job + "[[what_if]]\nname = \"w\"\nbletls = 3\n").find("a.toml:9: unknown key"),
              std::string::npos);
}

TEST(LaidOver, SingleKeysTableByTable) {
    const Value base = parse_toml("a = 1\n[t]\nx = 1\ny = 2\n", "base"),
                over = parse_toml("b = 3\n[t]\ny = 5\n", "over");
    EXPECT_EQ(to_json(laid_over(base, over)), R"({"a":1,"t":{"x":1,"y":5},"b":3})");
}

TEST(WorkDay, WorkGoesOnTheNextMorning) {
    const TimeZone zone("Europe/Berlin");
    const WorkDay day(zone, 6 * 60, 20 * 60);
    const auto at = [&](const char* text) { return parse_time(text, zone); };
    EXPECT_EQ(day.after(at("2026-07-13T08:00"), Duration::from_hours(5)), at("2026-07-13T13:00"));
    EXPECT_EQ(day.after(at("2026-07-13T18:00"), Duration::from_hours(5)), at("2026-07-14T09:00"));
    EXPECT_EQ(day.after(at("2026-07-13T22:00"), Duration::from_hours(30)), at("2026-07-16T08:00"));
    EXPECT_EQ(day.after(at("2026-07-13T06:00"), Duration::from_hours(14)), at("2026-07-13T20:00"));
    EXPECT_EQ(day.next_begin(at("2026-07-13T20:00")), at("2026-07-14T06:00"));
    EXPECT_EQ(day.next_begin(at("2026-07-13T03:00")), at("2026-07-13T06:00"));
    // The clock goes forward on 29 March 2026: the working day begins at six all the same.
    EXPECT_EQ(day.after(at("2026-03-28T19:00"), Duration::from_hours(2)), at("2026-03-29T07:00"));
}

// A day that ends at 24:00 made every budget fail: the clock knows no hour 24.
TEST(WorkDay, EndsAtMidnight) {
    const TimeZone zone("Europe/Berlin");
    const auto at = [&](const char* text) { return parse_time(text, zone); };
    const WorkDay late(zone, 14 * 60, 24 * 60);
    EXPECT_EQ(late.after(at("2026-07-31T20:00"), Duration::from_hours(5)), at("2026-08-01T15:00"));
    const WorkDay whole(zone, 0, 24 * 60);
    EXPECT_EQ(whole.after(at("2026-07-13T20:00"), Duration::from_hours(30)), at("2026-07-15T02:00"));
    EXPECT_EQ(whole.next_begin(at("2026-07-13T23:59")), at("2026-07-13T23:59"));
}

TEST(BeltsOnTheWay, PowderHoursAndHeightGoAlong) {
    BeltsNow now;
    now.condition = BeltsNow::Condition::not_run_in;
    now.hours = 0;
    now.since_lube = Length::from_km(2);
    now.bar_height = Length::from_mm(55);
    BeltsOnTheWay belts(now);
    Plan plan;
    Option haul;
    haul.mode = Mode::haul;
    haul.length_m = 20000;
    belts.move(plan, haul);
    EXPECT_DOUBLE_EQ(belts.now().since_lube.km(), 2) << "belts do not turn on the deck";
    belts.work(Duration::from_hours(5), 0.1);
    EXPECT_EQ(belts.now().condition, BeltsNow::Condition::not_run_in) << "never powdered";
    EXPECT_DOUBLE_EQ(*belts.now().hours, 5);
    EXPECT_NEAR(belts.now().bar_height->mm(), 54.9, 1e-9);
    Option drive;
    drive.mode = Mode::drive;
    drive.length_m = 9000;
    drive.hard_m = drive.gravel_m = drive.earth_m = 3000;
    drive.driving_s = 1800;
    drive.wear.mm = 0.05;
    belts.move(plan, drive);
    EXPECT_DOUBLE_EQ(belts.now().since_lube.km(), 11);
    PlanStop powder;
    powder.kind = "relube";
    powder.at_m = 4000;
    drive.stops = {powder};
    belts.move(plan, drive);
    EXPECT_DOUBLE_EQ(belts.now().since_lube.km(), 5);
    EXPECT_EQ(belts.now().condition, BeltsNow::Condition::run_in);
    EXPECT_DOUBLE_EQ(*belts.now().hours, 6);
    EXPECT_NEAR(belts.now().bar_height->mm(), 54.8, 1e-9);
}

TEST(BeltsOnTheWay, LongWorkOnSoilRunsBeltsIn) {
    BeltsNow now;
    now.condition = BeltsNow::Condition::not_run_in;
    now.hours = 20;
    BeltsOnTheWay belts(now);
    belts.work(Duration::from_hours(29), 0.5);
    EXPECT_EQ(belts.now().condition, BeltsNow::Condition::not_run_in);
    belts.work(Duration::from_hours(1), 0.1);
    EXPECT_EQ(belts.now().condition, BeltsNow::Condition::run_in);
}

TEST(ReadJobs, DamagedListsAreRefusedOrRead) {
    const std::string whole =
        R"({"start":"Yard","machine":"m.toml","margin_pct":12,"work_hours":"06:00-20:00","conditions":{"air_c":20},)"
        R"("job":[{"name":"a","field":"F","hectares":20,"ha_per_h":4,"depart":"2026-07-13T06:00"},)"
        R"({"name":"b","hours":3}],"what_if":[{"name":"w","rates":{"fuel":{"price_per_l":2}}}]})";
    const auto read_text = [](const std::string& text) { (void)read_jobs(parse_json(text, "jobs"), "jobs"); };
    EXPECT_NO_THROW(read_text(whole));
    test::Damage damage(9);
    int refused = 0;
    for (int i = 0; i < 4000; ++i) {
        const std::string text = damage.of(whole);
        try {
            read_text(text);
        } catch (const Error& e) {
            ++refused;
            EXPECT_NE(e.kind(), ErrorKind::internal) << text;
            EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos) << text;
        }
    }
    EXPECT_GT(refused, 2000);
}

}  // namespace
}  // namespace loamway
