// SPDX-License-Identifier: Apache-2.0
// Times and costs of seasons that can be worked out by hand.
#include "loamway/season/season_timing.h"

#include <gtest/gtest.h>

namespace loamway {
namespace {

constexpr int yard = 0, haulier = 1, near_field = 2, far_field = 3;

SeasonJob job(int place, WorkMinute minutes) {
    SeasonJob j;
    j.place = place;
    j.latest = 300;
    j.left_out = 100'000;
    j.on = {{true, 1000, minutes}};
    return j;
}

/// Days of 100 minutes. Driving takes 30 minutes to the near field; the far one is hauled, 40 minutes of
/// which the low-bed is busy for 35, after 5.
SeasonProblem one_machine() {
    SeasonProblem p({{yard, yard, 0}}, {{haulier, 0, 400}}, {job(near_field, 50), job(far_field, 130)}, 4,
                    {100, 200, 300});
    for (const auto& [from, to] : {std::pair(yard, near_field), std::pair(near_field, yard)})
        p.ways(0, from, to) = {{WayKind::driven, 70, 30}};
    for (const int other : {yard, near_field}) {
        p.ways(0, other, far_field) = {{WayKind::hauled, 20, 40, 0, 300, 5, 35, other, far_field}};
        p.ways(0, far_field, other) = {{WayKind::hauled, 20, 40, 0, 300, 5, 35, far_field, other}};
    }
    for (int from = 0; from < 4; ++from)
        for (int to = 0; to < 4; ++to)
            p.run(0, from, to) = {true, from == to ? 0 : 150, from == to ? 0 : 25};
    return p;
}

TEST(SeasonTiming, WorkGoesOverTheEveningAndMovesDoNot) {
    SeasonProblem p = one_machine();
    p.jobs[1].on[0].minutes = 90;
    SeasonSolution s;
    s.tasks = {{0, 0, 0}, {0, 1, 0}, {0, home_task, 0}};
    std::vector<TaskTimes> t;
    ASSERT_TRUE(time_all(p, s, &t));
    EXPECT_EQ(t[0].leave, 0);
    EXPECT_EQ(t[0].arrive, 30);
    EXPECT_EQ(t[0].end, 80);
    // 40 minutes do not fit before 100; the low-bed, 25 minutes away, has been there since the morning.
    EXPECT_EQ(t[1].low_bed_there, 25);
    EXPECT_EQ(t[1].leave, 100);
    EXPECT_EQ(t[1].arrive, 140);
    EXPECT_EQ(t[1].end, 230) << "over the second evening";
    EXPECT_EQ(t[1].low_bed_free, 140);
    EXPECT_EQ(t[2].leave, 230) << "it waited at the far field";
    EXPECT_EQ(t[2].arrive, 270);
    EXPECT_FALSE(p.fit(270, 40) >= 0);
    EXPECT_TRUE(p.fit(260, 40) == 260);
}

TEST(SeasonTiming, TripsPayTheMinimumAndTheRunBack) {
    SeasonProblem p = one_machine();
    p.jobs[1].on[0].minutes = 60;
    SeasonSolution s;
    s.tasks = {{0, 1, 0}, {0, home_task, 0}};
    std::vector<TaskTimes> t;
    ASSERT_TRUE(time_all(p, s, &t));
    EXPECT_EQ(t[0].leave, 20) << "so late that it does not wait for the low-bed after its five minutes";
    EXPECT_EQ(t[0].low_bed_cost, 450) << "300 and a run of 150, more than 400";
    EXPECT_EQ(t[1].low_bed_cost, 400) << "no run: it stayed there";
    EXPECT_EQ(s.left_out, std::vector<int>{0});
    EXPECT_EQ(s.cost, 100'000 + 1000 + 20 + 450 + 20 + 400 + 150);
}

TEST(SeasonTiming, WhatCannotBe) {
    SeasonProblem p = one_machine();
    const auto possible = [&p](std::vector<SeasonTask> tasks) {
        SeasonSolution s;
        s.tasks = std::move(tasks);
        return time_all(p, s);
    };
    EXPECT_TRUE(possible({}));
    EXPECT_TRUE(possible({{0, 0, 0}, {0, home_task, 0}}));
    EXPECT_FALSE(possible({{0, 0, 0}})) << "it must come home";
    EXPECT_FALSE(possible({{0, home_task, no_way_needed}})) << "it has done nothing";
    EXPECT_FALSE(possible({{0, 0, 1}, {0, home_task, 0}})) << "no such way";
    EXPECT_FALSE(possible({{0, 0, 0}, {0, 0, no_way_needed}, {0, home_task, 0}})) << "once is enough";
    p.jobs[0].latest = 79;
    EXPECT_FALSE(possible({{0, 0, 0}, {0, home_task, 0}}));
    p.jobs[0].latest = 80;
    EXPECT_TRUE(possible({{0, 0, 0}, {0, home_task, 0}}));
    p.jobs[0].earliest = 31;
    EXPECT_FALSE(possible({{0, 0, 0}, {0, home_task, 0}}));
    p.jobs[0] = job(near_field, 50);
    p.jobs[0].kinds = bit_of(WayKind::hauled);
    EXPECT_FALSE(possible({{0, 0, 0}, {0, home_task, 0}}));
    p.jobs[0].kinds = all_kinds;
    p.jobs[1].on[0].minutes = 40;
    p.jobs[1].turn = JobTurn::first;
    EXPECT_FALSE(possible({{0, 0, 0}, {0, 1, 0}, {0, home_task, 0}}));
    p.jobs[1].turn = JobTurn::last;
    EXPECT_TRUE(possible({{0, 0, 0}, {0, 1, 0}, {0, home_task, 0}}));
    EXPECT_FALSE(possible({{0, 1, 0}, {0, 0, 0}, {0, home_task, 0}}));
}

}  // namespace
}  // namespace loamway
