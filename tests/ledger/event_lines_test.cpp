// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/event_lines.h"

#include <gtest/gtest.h>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr const char* washed =
    R"({"id":7,"at":"2026-04-01T08:00:00Z","noted":"2026-04-02T08:00:00Z","kind":"washed","machine":"red","data":{}})";

TEST(EventLines, BlankLinesAreSkippedAndTokensMade) {
    const auto events = parse_event_lines(std::string("\n \t\r\n") + washed + "\r\n" + washed, "a");
    ASSERT_EQ(events.size(), 2u);
    EXPECT_EQ(events[0].kind, EventKind::washed);
    EXPECT_EQ(events[0].token, "import 7 2026-04-02T08:00:00Z");
    EXPECT_EQ(events[1].token, events[0].token) << "the same event twice is written once";
    EXPECT_TRUE(parse_event_lines("", "a").empty());
}

TEST(EventLines, FaultsNameTheirLine) {
    try {
        (void)parse_event_lines(std::string(washed) + "\n\n{\"id\":1}\n", "a.jsonl");
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::input);
        EXPECT_EQ(e.place().file, "a.jsonl");
        EXPECT_EQ(e.place().line, 3);
    }
}

}  // namespace
}  // namespace loamway
