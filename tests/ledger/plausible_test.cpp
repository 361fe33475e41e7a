// SPDX-License-Identifier: Apache-2.0
// Slips of the pen that are seen before they are kept.
#include "loamway/ledger/plausible.h"

#include <gtest/gtest.h>

#include <vector>

#include "loamway/base/error.h"

namespace loamway {
namespace {

BeltsAdded set_of(double new_mm, double worn_mm) {
    BeltsAdded b;
    b.new_bar_mm = new_mm;
    b.worn_mm = worn_mm;
    return b;
}

bool possible(const BeltsAdded& set, const std::vector<double>& mm) {
    return implausible_heights(set, mm).empty();
}

TEST(Plausible, BarsOfOneSetLieBetweenNewAndWornOutAndNearEachOther) {
    const BeltsAdded set = set_of(55, 15);
    EXPECT_TRUE(possible(set, {54.8}));
    EXPECT_TRUE(possible(set, {60.5, 55, 50}));
    EXPECT_FALSE(possible(set, {60.6}));
    EXPECT_TRUE(possible(set, {9.5}));
    EXPECT_FALSE(possible(set, {9.4}));
    EXPECT_TRUE(possible(set, {50, 30}));
    EXPECT_FALSE(possible(set, {50, 29.9}));
    EXPECT_FALSE(possible(set, {54, 8}));
    EXPECT_FALSE(possible(set_of(25, 5), {24, 8})) << "a low bar that is no fault by itself";
}

bool possible(double km, double hours, double top_kmh) {
    MoveDone m;
    m.hard_m = km * 1000;
    m.hours = hours;
    return implausible_speed(m, Speed::from_kmh(top_kmh)).empty();
}

TEST(Plausible, AMoveIsNoFasterThanTheMachine) {
    EXPECT_FALSE(possible(27, 0.2, 40)) << "135 km/h";
    EXPECT_FALSE(possible(27, 0.2, 80));
    EXPECT_TRUE(possible(5, 0.1, 40)) << "seven minutes and a half, noted as a tenth";
    EXPECT_TRUE(possible(40, 1, 40));
    EXPECT_FALSE(possible(53, 1, 40));
    EXPECT_TRUE(possible(2400, 0, 40)) << "without hours there is no speed";
}

TEST(Plausible, WhatIsMoreThanADayAheadOfTheClockHasNotHappened) {
    const Instant clock{1000000};
    EXPECT_NO_THROW(check_happened({1000000 + 86400}, clock, "--at"));
    EXPECT_THROW(check_happened({1000000 + 86401}, clock, "--at"), Error);
    EXPECT_NO_THROW(check_happened({-1000000}, clock, "--at"));
}

}  // namespace
}  // namespace loamway
