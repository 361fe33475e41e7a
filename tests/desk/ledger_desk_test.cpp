// SPDX-License-Identifier: Apache-2.0
// What a move takes out of a ledger, and that what the move says itself wins.
#include <gtest/gtest.h>

#include <functional>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/desk/belts.h"
#include "loamway/desk/desk.h"
#include "loamway/ledger/ledger.h"
#include "support/test_files.h"
#include "support/tiny_region.h"

using namespace loamway;

namespace {

constexpr const char* machine_toml = R"(
name = "as the maker calls it"
[belts]
count = 2
length_mm = 7100
width_mm = 550
[[state]]
name = "bare"
mass_kg = 16000
width_m = 2.75
height_m = 3.4
length_m = 6.2
)";

Instant day(int d) {
    return {parse_time("2026-05-01T08:00:00Z", TimeZone()).unix_seconds + 86400LL * d};
}

class LedgerMove : public ::testing::Test {
protected:
    LedgerMove() {
        TinyMap map;
        map.edge(map.node(53.50, 13.20), map.node(53.51, 13.20));
        write_region(map.build(), m_dir.file("a.region"));
        Ledger ledger = Ledger::open(place(), LedgerUse::write);
        note(ledger, EventKind::machine_added, 0, "red", "",
             Value::Object{{"profile", parse_toml(machine_toml, "m.toml")}});
        note(ledger, EventKind::belts_added, 0, "", "first",
             Value::Object{{"new_bar_mm", 50}, {"worn_mm", 12}, {"price", 20000}});
        note(ledger, EventKind::belts_added, 0, "", "second",
             Value::Object{{"new_bar_mm", 55}, {"worn_mm", 15}, {"hours", 400}, {"run_in", true}});
        note(ledger, EventKind::fitted, 1, "red", "first");
        note(ledger, EventKind::lubricated, 2, "red", "first");
        note(ledger, EventKind::field_work, 3, "red", "first", Value::Object{{"hours", 40}});
        note(ledger, EventKind::moved, 4, "red", "first",
             Value::Object{{"hard_m", 9000}, {"gravel_m", 500}, {"hours", 0.5}});
        note(ledger, EventKind::washed, 10, "red", "first");
        m_request.ledger = place();
        m_request.region = m_dir.file("a.region");
        m_request.machine = "red";
        m_request.from = "53.50,13.20";
        m_request.to = "53.51,13.20";
        m_request.depart = "2026-05-06T08:00";
    }
    static void note(Ledger& ledger, EventKind kind, int on, const std::string& machine,
                     const std::string& belts, Value data = Value::Object{}) {
        Event e;
        e.kind = kind;
        e.at = day(on);
        e.machine = machine;
        e.belts = belts;
        e.data = std::move(data);
        (void)ledger.write(e);
    }
    [[nodiscard]] std::string place() const { return m_dir.file("farm.ledger"); }
    [[nodiscard]] PlanInputs inputs() const { return prepare(m_request, day(0)).inputs; }
    [[nodiscard]] std::string fault() const {
        try {
            (void)inputs();
        } catch (const Error& e) {
            return e.what();
        }
        return "no fault";
    }

    test::TempDir m_dir;
    MoveRequest m_request;
};

TEST_F(LedgerMove, MachineAndBeltsComeByName) {
    const PlanInputs in = inputs();
    EXPECT_EQ(in.machine.name, "red");
    EXPECT_EQ(in.belts.condition, BeltsNow::Condition::run_in);
    EXPECT_FALSE(in.belts.condition_assumed);
    EXPECT_DOUBLE_EQ(in.belts.since_lube.km(), 9.5);
    EXPECT_FALSE(in.belts.since_lube_assumed);
    EXPECT_EQ(in.powder_first, PowderFirst::if_needed);
    EXPECT_DOUBLE_EQ(in.belts.hours.value(), 40.5);
    EXPECT_NEAR(in.machine.belts.bar_height.mm(), 50, 1e-9);
    EXPECT_NEAR(in.machine.belts.worn_height.mm(), 12, 1e-9);
    EXPECT_LT(in.belts.bar_height->mm(), 50);
    EXPECT_DOUBLE_EQ(in.rates.belt_set.units(), 20000);
    EXPECT_DOUBLE_EQ(in.rates.belt_fitting.units(), 0);
}

TEST_F(LedgerMove, BeltsAreAsTheyAreAtDeparture) {
    m_request.depart = "2026-05-12T08:00";
    EXPECT_EQ(inputs().belts.condition, BeltsNow::Condition::washed);
    m_request.depart = "2026-05-02T07:00";
    EXPECT_TRUE(inputs().belts.condition_assumed) << "they were fitted an hour later";
}

TEST_F(LedgerMove, AMoveNotedIsKnownToTheNextPlan) {
    Ledger ledger = Ledger::open(place(), LedgerUse::write);
    note(ledger, EventKind::moved, 5, "red", "first", Value::Object{{"hard_m", 3000}, {"hours", 0.25}});
    const PlanInputs in = inputs();
    EXPECT_DOUBLE_EQ(in.belts.since_lube.km(), 12.5);
    EXPECT_DOUBLE_EQ(in.belts.hours.value(), 40.75);
}

TEST_F(LedgerMove, WhatTheMoveSaysWins) {
    m_request.belts = "new";
    m_request.belt_hours = 2;
    m_request.since_lube_km = 1;
    m_request.bar_mm = 49;
    const PlanInputs in = inputs();
    EXPECT_EQ(in.belts.condition, BeltsNow::Condition::not_run_in);
    EXPECT_EQ(in.belts.hours, 2);
    EXPECT_DOUBLE_EQ(in.belts.since_lube.km(), 1);
    EXPECT_EQ(in.powder_first, PowderFirst::if_needed);
    EXPECT_NEAR(in.belts.bar_height->mm(), 49, 1e-9);
}

TEST_F(LedgerMove, ASetThatIsNotFittedCanBeAskedAbout) {
    m_request.belts = "second";
    EXPECT_DOUBLE_EQ(inputs().belts.hours.value(), 400);
    m_request.washed = true;
    EXPECT_EQ(inputs().belts.condition, BeltsNow::Condition::washed);
    m_request.machine.reset();
    EXPECT_NE(fault().find("belts \"second\" are on no machine"), std::string::npos) << fault();
}

TEST_F(LedgerMove, BeltsBringTheirMachine) {
    m_request.machine.reset();
    m_request.belts = "first";
    EXPECT_EQ(inputs().machine.name, "red");
    EXPECT_EQ(prepare_belts(m_request, day(30)).belts.condition, BeltsNow::Condition::washed);
}

TEST_F(LedgerMove, SurveysAndReadingsTeachThePlan) {
    EXPECT_FALSE(inputs().wear.calibrated);
    EXPECT_FALSE(inputs().heat.calibrated());
    {
        Ledger ledger = Ledger::open(place(), LedgerUse::write);
        const auto survey = [&](int on, double mm) {
            note(ledger, EventKind::heights, on, "red", "first",
                 Value::Object{{"mm", Value::Array(12, Value(mm))}});
        };
        // Twice as fast as assumed on paved road: 300 km, 2.4 mm.
        survey(4, 49.5);
        note(ledger, EventKind::moved, 4, "red", "first", Value::Object{{"hard_m", 300000}, {"hours", 12}});
        survey(4, 47.1);
        note(ledger, EventKind::reading, 4, "red", "first",
             Value::Object{{"reading_c", 61},
                           {"after_stop_min", 5},
                           {"length_km", 20},
                           {"speed_kmh", 40},
                           {"air_c", 25}});
    }
    const PlanInputs in = inputs();
    EXPECT_TRUE(in.wear.calibrated);
    EXPECT_NEAR(in.wear.rates.hard_mm_per_km, 8e-3, 1e-3);
    EXPECT_LT(in.wear.sd_share, 0.2);
    EXPECT_TRUE(in.heat.calibrated());
    EXPECT_GT(in.heat.scale, 1.0);
}

// A reading in the machine's profile, of belts long gone, narrowed the band of a set that had come after it.
TEST_F(LedgerMove, ReadingsOfTheProfileAreNotOfTheLedgersBelts) {
    const std::string with_reading = std::string(machine_toml) + R"(
[[reading]]
km = 20
speed_kmh = 40
air_c = 25
minutes_after_stop = 5
flank_c = 48
)";
    {
        Ledger ledger = Ledger::open(place(), LedgerUse::write);
        note(ledger, EventKind::machine_added, 0, "blue", "",
             Value::Object{{"profile", parse_toml(with_reading, "b.toml")}});
        note(ledger, EventKind::fitted, 1, "blue", "second");
    }
    m_request.machine = "blue";
    const KnownHeat left_aside = inputs().heat;
    EXPECT_FALSE(left_aside.calibrated());
    ASSERT_EQ(left_aside.notes.size(), 1u);
    EXPECT_NE(left_aside.notes[0].find("1 of the machine's profile left aside"), std::string::npos);
    m_request.ledger.reset();
    m_request.machine = m_dir.write("b.toml", with_reading);
    EXPECT_TRUE(inputs().heat.calibrated()) << "without a ledger the profile speaks of the belts there are";
    m_request.belts = "new";
    EXPECT_FALSE(inputs().heat.calibrated());
}

TEST_F(LedgerMove, NamesNobodyKnowsAreRefusedWithTheNearest) {
    m_request.machine = "rde";
    EXPECT_NE(fault().find("did you mean red?"), std::string::npos) << fault();
    m_request.machine = "red";
    m_request.belts = "frist";
    EXPECT_NE(fault().find("no belts \"frist\""), std::string::npos) << fault();
    EXPECT_NE(fault().find("did you mean first?"), std::string::npos) << fault();
    m_request.ledger.reset();
    EXPECT_NE(fault().find("belts \"frist\" is not known"), std::string::npos) << fault();
    m_request.belts.reset();
    m_request.ledger = m_dir.file("none.ledger");
    EXPECT_NE(fault().find("there is no ledger"), std::string::npos) << fault();
}

TEST_F(LedgerMove, AFileIsStillAFile) {
    m_request.machine = m_dir.write("m.toml", machine_toml);
    const PlanInputs in = inputs();
    EXPECT_EQ(in.machine.name, "as the maker calls it");
    EXPECT_TRUE(in.belts.condition_assumed);
}

}  // namespace
