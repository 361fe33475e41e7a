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

}  // namespace
}  // namespace loamway
