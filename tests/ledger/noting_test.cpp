// SPDX-License-Identifier: Apache-2.0
// What is noted again, what was undone, and belts that were not on then.
#include "loamway/ledger/noting.h"

#include <gtest/gtest.h>

#include "loamway/base/error.h"
#include "test_store.h"

namespace loamway {
namespace {

using test::ledger_event;

class Noting : public ::testing::Test {
protected:
    Noting() { test::add_red_and_set(m_ledger); }
    static Event move(double metres) {
        Event e = ledger_event(EventKind::moved, "red", "set", 5000,
                               Value::Object{{"hard_m", metres}, {"hours", 0.5}});
        e.token = "a plan";
        return e;
    }
    Written note(Event e) {
        settle_repeat(m_ledger, e);
        return m_ledger.write(e);
    }
    std::string why_none(const std::string& machine, std::int64_t at) const {
        try {
            return belts_then(m_ledger, machine, {at});
        } catch (const Error& e) {
            return e.what();
        }
    }
    test::LedgerPlace m_place;
    Ledger m_ledger = m_place.open();
};

TEST_F(Noting, TheSameMoveStaysOneAndOtherFiguresAreNotDropped) {
    const Written first = note(move(9000));
    EXPECT_FALSE(first.was_there);
    EXPECT_TRUE(note(move(9000)).was_there);
    EXPECT_TRUE(note(move(9000.4)).was_there);
    EXPECT_THROW(note(move(9100)), Error);
    Event elsewhere = move(9000);
    elsewhere.belts.clear();
    EXPECT_THROW(note(elsewhere), Error);
    EXPECT_EQ(m_ledger.record("set").moves, 1);
}

TEST_F(Noting, WhatWasUndoneCanBeNotedAnewOnce) {
    const Written first = note(move(9000));
    for (int round = 0; round < 2; ++round) {
        const std::int64_t last = note(move(9000 + 100.0 * round)).id;
        (void)m_ledger.write(ledger_event(EventKind::undone, "", "", 6000, Value::Object{{"event", last}}));
        EXPECT_EQ(m_ledger.record("set").moves, 0);
    }
    const Written again = note(move(9300));
    EXPECT_FALSE(again.was_there);
    EXPECT_NE(again.id, first.id);
    EXPECT_EQ(note(move(9300)).id, again.id);
    EXPECT_EQ(m_ledger.record("set").moves, 1);
    EXPECT_DOUBLE_EQ(m_ledger.record("set").hard_km, 9.3);
}

TEST_F(Noting, BeltsThatWereNotOnThenAreSaidWithTheReason) {
    EXPECT_EQ(why_none("red", 100), "set");
    EXPECT_NE(why_none("red", -86400).find("set is fitted since 1970-01-01T00:00Z"), std::string::npos)
        << why_none("red", -86400);
    EXPECT_NE(why_none("rde", 100).find("no machine \"rde\" in the ledger (it has red)"), std::string::npos)
        << why_none("rde", 100);
    (void)m_ledger.write(ledger_event(EventKind::removed, "red", "set", 7200));
    EXPECT_NE(why_none("red", 9000).find("set was taken off at 1970-01-01T02:00Z"), std::string::npos)
        << why_none("red", 9000);
}

TEST_F(Noting, WorkBeforeTheDayOnWhichASetWasNotedCounts) {
    (void)m_ledger.write(ledger_event(EventKind::belts_added, "", "late", 90000,
                                      Value::Object{{"new_bar_mm", 50}, {"worn_mm", 12}, {"hours", 7}}));
    (void)m_ledger.write(ledger_event(EventKind::field_work, "", "late", 50000, Value::Object{{"hours", 3}}));
    EXPECT_DOUBLE_EQ(m_ledger.record("late").hours, 10);
}

TEST_F(Noting, WhatIsNotedForLaterIsKnown) {
    (void)m_ledger.write(test::field_hour(5000));
    EXPECT_FALSE(noted_for_later(m_ledger, m_ledger.record("set", Instant{5000})));
    EXPECT_TRUE(noted_for_later(m_ledger, m_ledger.record("set", Instant{4999})));
}

// 500 h of work were taken one day after the last entry.
class Possible : public Noting {
protected:
    static Event field(std::int64_t hour, double hours) {
        return ledger_event(EventKind::field_work, "red", "set", hour * 3600,
                            Value::Object{{"hours", hours}});
    }
    bool can(const Event& e) const {
        try {
            require_possible(m_ledger, e);
        } catch (const Error& wrong) {
            EXPECT_EQ(wrong.kind(), ErrorKind::input);
            return false;
        }
        return true;
    }
    void keep(const Event& e) { (void)m_ledger.write(e); }
};

TEST_F(Possible, NoMoreHoursThanSinceTheBeltsWereFitted) {
    EXPECT_TRUE(can(field(100, 100)));
    EXPECT_TRUE(can(field(0, 24))) << "the first day, noted as it begins";
    EXPECT_TRUE(can(field(100, 124)));
    EXPECT_FALSE(can(field(100, 125)));
}

TEST_F(Possible, NoMoreHoursThanSinceTheLastWork) {
    keep(field(1000, 8));
    EXPECT_TRUE(can(field(1024, 48)));
    EXPECT_FALSE(can(field(1024, 500)));
    // One after the other in the evening; each by itself would fit.
    keep(field(1024, 20));
    keep(field(1024, 20));
    EXPECT_TRUE(can(field(1024, 8)));
    EXPECT_FALSE(can(field(1024, 9)));
    EXPECT_FALSE(can(field(1025, 10)));
    EXPECT_TRUE(can(field(1049, 33)));
}

TEST_F(Possible, WorkThatIsNotedLateHasToFitBeforeWhatCameAfter) {
    keep(field(1000, 8));
    keep(field(1100, 100));
    EXPECT_TRUE(can(field(1050, 24)));
    EXPECT_FALSE(can(field(1050, 25)));
    // What was undone leaves room.
    const Written w = m_ledger.write(field(1060, 20));
    EXPECT_FALSE(can(field(1050, 24)));
    keep(ledger_event(EventKind::undone, "", "", 1100 * 3600, Value::Object{{"event", w.id}}));
    EXPECT_TRUE(can(field(1050, 24)));
}

TEST_F(Possible, AMoveWithoutHoursTakesAtLeastThoseOfAFastMachine) {
    Event e = move(2400000);
    e.token.clear();
    e.data = Value(Value::Object{{"hard_m", 2400000}});
    e.at = {3600};
    EXPECT_FALSE(can(e));
    e.at = {7 * 3600};
    EXPECT_TRUE(can(e));
}

// What is there already is not noted twice, and so not counted twice.
TEST_F(Possible, ARepeatPasses) {
    Event e = move(30000);
    e.at = {3600};
    e.data = Value(Value::Object{{"hard_m", 1000000}, {"hours", 24}});
    EXPECT_TRUE(can(e));
    keep(e);
    EXPECT_TRUE(can(e));
    e.token = "another";
    EXPECT_FALSE(can(e));
}

// The same plan was taken twice, at two times.
TEST_F(Noting, APlanIsOneMoveUnlessItIsSaidToBeAnother) {
    Event e = move(9000);
    e.token = "plan f00 drive 5000";
    (void)m_ledger.write(e);
    EXPECT_NO_THROW(require_driven_once(m_ledger, e, "plan f00 ", "say so"));
    Event later = e;
    later.at = {9000};
    later.token = "plan f00 drive 9000";
    try {
        require_driven_once(m_ledger, later, "plan f00 ", "say so");
        FAIL();
    } catch (const Error& wrong) {
        EXPECT_STREQ(wrong.what(),
                     "this plan is event 4 already, arrived 1970-01-01T01:23Z (if that one is wrong: loamway "
                     "ledger undo 4; say so)");
    }
    EXPECT_NO_THROW(require_driven_once(m_ledger, later, "plan f01 ", "say so"));
    (void)m_ledger.write(ledger_event(EventKind::undone, "", "", 6000, Value::Object{{"event", 4}}));
    EXPECT_NO_THROW(require_driven_once(m_ledger, later, "plan f00 ", "say so"));
}

}  // namespace
}  // namespace loamway
