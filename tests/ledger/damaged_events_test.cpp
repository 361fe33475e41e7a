// SPDX-License-Identifier: Apache-2.0
// Exported events and kept states as files get damaged: refused by an Error in one line, or read.
#include <gtest/gtest.h>

#include "../../src/ledger/belt_tally.h"
#include "loamway/base/error.h"
#include "support/damage.h"
#include "test_store.h"

namespace loamway {
namespace {

constexpr int rounds = 4000;

template <class Read>
int refused(const std::string& whole, unsigned seed, const Read& read) {
    test::Damage damage(seed);
    int count = 0;
    for (int i = 0; i < rounds; ++i) {
        const std::string text = damage.of(whole);
        try {
            read(text);
        } catch (const Error& e) {
            ++count;
            EXPECT_NE(e.kind(), ErrorKind::internal) << text;
            EXPECT_EQ(std::string(e.what()).find('\n'), std::string::npos) << text;
        }
    }
    return count;
}

TEST(DamagedEvents, AreRefusedOrRead) {
    Event e = test::ledger_event(
        EventKind::moved, "red", "set", 1'780'000'000,
        Value::Object{{"hard_m", 12000.5}, {"hours", 0.7}, {"bar_peak_c", 71.5}, {"from", "a"}});
    e.by = "jo";
    e.token = "t 1";
    const std::string whole = to_json(e.to_value());
    const auto read = [](const std::string& text) {
        BeltTally tally("set");
        tally.add(test::ledger_event(EventKind::belts_added, "", "set", 0,
                                     Value::Object{{"new_bar_mm", 55}, {"worn_mm", 15}}));
        tally.add(event_from_value(parse_json(text, "line"), "line"));
        (void)tally.record();
    };
    EXPECT_NO_THROW(read(whole));
    EXPECT_GT(refused(whole, 3, read), rounds / 2);
}

TEST(DamagedEvents, KeptStatesToo) {
    BeltTally tally("set");
    tally.add(test::ledger_event(EventKind::belts_added, "", "set", 0,
                                 Value::Object{{"new_bar_mm", 55}, {"worn_mm", 15}}));
    for (const double mm : {54.0, 53.5})
        tally.add(test::ledger_event(EventKind::heights, "", "set", 5,
                                     Value::Object{{"mm", Value::Array(10, Value(mm))}}));
    tally.add(test::ledger_event(EventKind::moved, "red", "set", 6,
                                 Value::Object{{"hard_m", 5000}, {"bar_peak_c", 70}}));
    const std::string whole = to_json(tally.to_value());
    const auto read = [](const std::string& text) {
        (void)BeltTally::from_value(parse_json(text, "state"), "set").record();
    };
    EXPECT_NO_THROW(read(whole));
    EXPECT_GT(refused(whole, 4, read), rounds / 4);
}

}  // namespace
}  // namespace loamway
