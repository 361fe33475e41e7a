// SPDX-License-Identifier: Apache-2.0
#include "draft.h"

#include <gtest/gtest.h>

#include <stdexcept>

namespace loamway {

namespace {

LineId road(Draft& draft, const std::vector<Spot>& spots) {
    return draft.add_line(spots, {{"highway", "track"}}, LineKind::road, "test");
}

}  // namespace

TEST(Draft, SamePlaceIsTheSameVertex) {
    Draft draft;
    EXPECT_EQ(draft.vertex({1.0, 2.0}), draft.vertex({1.004, 1.996}));
    EXPECT_NE(draft.vertex({1.0, 2.0}), draft.vertex({1.02, 2.0}));
    EXPECT_NE(draft.vertex({-1.0, 2.0}), draft.vertex({1.0, 2.0}));
}

TEST(Draft, CrossingRoadsShareAVertex) {
    Draft draft;
    const LineId east = road(draft, {{0, 0}, {100, 0}, {200, 0}});
    const LineId north = road(draft, {{150, -80}, {150, 80}});
    draft.join_crossings();
    ASSERT_EQ(draft.line(east).path.size(), 4U);
    ASSERT_EQ(draft.line(north).path.size(), 3U);
    EXPECT_EQ(draft.line(north).path[1], draft.line(east).path[2]);
    EXPECT_NEAR(draft.at(draft.line(north).path[1]).x, 150.0, 0.01);
    draft.join_crossings();
    EXPECT_EQ(draft.line(east).path.size(), 4U) << "a second pass must find nothing new";
}

TEST(Draft, BridgesDoNotMeetWhatTheyCross) {
    Draft draft;
    const LineId below = road(draft, {{0, 0}, {200, 0}});
    const LineId above = road(draft, {{150, -80}, {150, 80}});
    draft.line(above).on_ground = false;
    draft.join_crossings();
    EXPECT_EQ(draft.line(below).path.size(), 2U);
    EXPECT_EQ(draft.line(above).path.size(), 2U);
}

TEST(Draft, ACrossingNearAnEndUsesTheEnd) {
    Draft draft;
    const LineId east = road(draft, {{0, 0}, {100, 0}, {200, 0}});
    const LineId north = road(draft, {{102, -80}, {102, 80}});
    draft.join_crossings();
    EXPECT_EQ(draft.line(east).path.size(), 3U);
    EXPECT_EQ(draft.line(north).path[1], draft.line(east).path[1]);
}

TEST(Draft, IsolateMakesThreeLinesThatMeet) {
    Draft draft;
    const LineId line = road(draft, {{0, 0}, {100, 0}, {200, 0}});
    const LineId middle = draft.isolate(line, 30.0, 150.0);
    EXPECT_NE(middle, line);
    EXPECT_EQ(draft.line_count(), 3U);
    EXPECT_NEAR(draft.length(line), 30.0, 0.02);
    EXPECT_NEAR(draft.length(middle), 120.0, 0.02);
    EXPECT_EQ(draft.line(line).path.back(), draft.line(middle).path.front());
    EXPECT_EQ(draft.line(middle).tags, draft.line(line).tags);
    EXPECT_THROW(static_cast<void>(draft.isolate(middle, 50.0, 51.0)), std::logic_error);
}

TEST(Draft, IsolateOfTheWholeLineIsTheLine) {
    Draft draft;
    const LineId line = road(draft, {{0, 0}, {200, 0}});
    EXPECT_EQ(draft.isolate(line, 0.0, 200.0), line);
    EXPECT_EQ(draft.line_count(), 1U);
}

TEST(Draft, CrossingsComeInOrderAlongTheLine) {
    Draft draft;
    const LineId line = road(draft, {{0, 0}, {300, 0}});
    const LineId winding = road(draft, {{250, -10}, {250, 10}, {50, 10}, {50, -10}});
    const std::vector<double> at = draft.crossings(line, winding);
    ASSERT_EQ(at.size(), 2U);
    EXPECT_NEAR(at[0], 50.0, 1e-9);
    EXPECT_NEAR(at[1], 250.0, 1e-9);
}

TEST(Draft, NearestHonoursDistanceAndFilter) {
    Draft draft;
    const LineId near = road(draft, {{0, 0}, {300, 0}});
    const LineId far = road(draft, {{0, 50}, {300, 50}});
    const auto all = [](const DraftLine&) { return true; };
    const auto found = draft.nearest({120, 10}, 100.0, all);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->line, near);
    EXPECT_NEAR(found->position, 120.0, 1e-9);
    EXPECT_NEAR(found->distance, 10.0, 1e-9);
    EXPECT_FALSE(draft.nearest({120, 10}, 5.0, all));
    draft.line(near).course = "not this one";
    const auto other = draft.nearest({120, 10}, 100.0, [](const DraftLine& l) { return l.course == "test"; });
    ASSERT_TRUE(other);
    EXPECT_EQ(other->line, far);
}

TEST(Draft, SmoothKeepsTheEnds) {
    const std::vector<Spot> round = smooth({{0, 0}, {100, 0}, {100, 100}}, 2);
    EXPECT_EQ(round.front().x, 0.0);
    EXPECT_EQ(round.back().y, 100.0);
    for (const Spot s : round) {
        EXPECT_TRUE(distance(s, {100, 0}) > 10.0) << "the corner is gone";
    }
}

}  // namespace loamway
