// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/belt_outlook.h"

#include <gtest/gtest.h>

#include <cmath>

#include "test_store.h"

namespace loamway {
namespace {

using test::ledger_event;

constexpr std::int64_t week = 7 * 86400;

std::vector<Event> set_of_belts() {
    return {ledger_event(EventKind::belts_added, "", "set", 0,
                         Value::Object{{"new_bar_mm", 55}, {"worn_mm", 15}})};
}
Event field(std::int64_t at, double hours) {
    return ledger_event(EventKind::field_work, "red", "set", at, Value::Object{{"hours", hours}});
}
Event survey(std::int64_t at, double mm) {
    return ledger_event(EventKind::heights, "red", "set", at,
                        Value::Object{{"mm", Value::Array(10, Value(mm))}});
}

TEST(WearEnd, FollowsTheHoursAndThePace) {
    std::vector<Event> events = set_of_belts();
    for (int i = 1; i <= 10; ++i)
        events.push_back(field(i * week, 30));
    const BeltRecord r = belt_record(events, "set");
    const Instant now{10 * week};
    const auto end = wear_end(r, now);
    ASSERT_TRUE(end);
    EXPECT_NEAR(end->hours_per_week, 30, 1e-9);
    // 300 h at the assumed 0.0133 mm leave 36.01 mm: 2707.5 h, some 90 weeks.
    const double weeks = (55 - 15 - 300 * 0.0133) / 0.0133 / 30;
    ASSERT_TRUE(end->at);
    EXPECT_NEAR(static_cast<double>(end->at->unix_seconds - now.unix_seconds) / week, weeks, 0.01);
    ASSERT_TRUE(end->earliest);
    EXPECT_LT(*end->earliest, *end->at);
    EXPECT_FALSE(end->latest) << "with assumed rates the far end is no date";
    EXPECT_FALSE(wear_end(r, {3 * week})) << "three weeks are no pace";
    EXPECT_FALSE(wear_end(belt_record(set_of_belts(), "set"), now));
}

// A set that was taken off went on being forecast at the pace it once had.
TEST(WearEnd, ASetTakenOffHasNone) {
    std::vector<Event> events = set_of_belts();
    events.push_back(ledger_event(EventKind::fitted, "red", "set", 0, Value::Object{}));
    for (int i = 1; i <= 10; ++i)
        events.push_back(field(i * week, 30));
    ASSERT_TRUE(wear_end(belt_record(events, "set"), {10 * week}));
    events.push_back(
        ledger_event(EventKind::removed, "red", "set", 10 * week, Value::Object{{"cause", "worn"}}));
    const auto stored = [&] {
        std::vector<Event> e = events;
        e.back().data = Value::Object{{"cause", "season"}};
        return belt_record(e, "set");
    };
    EXPECT_TRUE(wear_end(stored(), {10 * week})) << "until the next";
    const BeltRecord removed = belt_record(events, "set");
    ASSERT_FALSE(removed.removed_for.empty());
    EXPECT_FALSE(wear_end(removed, {10 * week}));
    EXPECT_TRUE(worth_measuring(removed, WearAim::hour_of_work).empty());
    EXPECT_TRUE(worth_measuring(removed, WearAim::road).empty());
    events.push_back(ledger_event(EventKind::fitted, "blue", "set", 10 * week, Value::Object{}));
    EXPECT_TRUE(wear_end(belt_record(events, "set"), {10 * week})) << "on again";
}

TEST(WorthMeasuring, FieldWorkIsMeasuredInTheField) {
    std::vector<Event> events = set_of_belts();
    events.push_back(field(week, 100));
    const auto worth = worth_measuring(belt_record(events, "set"), WearAim::hour_of_work);
    ASSERT_EQ(worth.size(), 1u) << "roads teach nothing about an hour in the field";
    EXPECT_EQ(worth[0].what, "the bars before and after 50 h of field work");
    EXPECT_NEAR(worth[0].sd_now, 0.6, 1e-9);
    // The regression by hand: prior sd 0.6 x 0.0133, noise sqrt(2 / 10) 0.30 mm over 50 h.
    const double prior = 0.6 * 0.0133, noise = std::sqrt(0.2) * 0.30 / 50;
    const double sd = 1 / std::sqrt(1 / (prior * prior) + 1 / (noise * noise));
    EXPECT_NEAR(worth[0].sd_then, sd / 0.0133, 1e-9);
}

TEST(WorthMeasuring, OnceLearntNothingIsLeftToMeasure) {
    std::vector<Event> events = set_of_belts();
    events.push_back(survey(week, 55));
    events.push_back(field(2 * week, 500));
    const auto before = worth_measuring(belt_record(events, "set"), WearAim::hour_of_work);
    ASSERT_FALSE(before.empty());
    EXPECT_EQ(before[0].what, "the same bars once more, now");
    events.push_back(survey(3 * week, 48));
    EXPECT_TRUE(worth_measuring(belt_record(events, "set"), WearAim::hour_of_work).empty());
}

TEST(WorthMeasuring, RoadsAreMeasuredOnTheRoad) {
    std::vector<Event> events = set_of_belts();
    events.push_back(field(week, 300));
    events.push_back(
        ledger_event(EventKind::moved, "red", "set", 2 * week, Value::Object{{"hard_m", 30000}}));
    const auto worth = worth_measuring(belt_record(events, "set"), WearAim::road);
    ASSERT_FALSE(worth.empty());
    EXPECT_EQ(worth[0].what, "the bars before and after 100 km of paved road");
}

}  // namespace
}  // namespace loamway
