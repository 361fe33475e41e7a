// SPDX-License-Identifier: Apache-2.0
#include "loamway/search/stop_choice.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <bit>

#include "support/random_map.h"

namespace loamway {
namespace {

// Brute force over all subsets of the candidates: the rules as a person would check them on a trip meter.
struct Verdict {
    bool possible = false;
    std::size_t stops = 0;
    std::int64_t score = 0;
};

bool keeps_interval(const StopQuestion& q, std::uint32_t subset) {
    std::uint64_t meter = q.since_dm, at = 0;
    for (std::size_t i = 0; i < q.candidates.size(); ++i)
        if ((subset >> i & 1) != 0) {
            const StopCandidate& c = q.candidates[i];
            meter += c.at_dm - at + c.spur_dm;
            if (meter > q.interval_dm)
                return false;
            meter = c.spur_dm;
            at = c.at_dm;
        }
    if (meter + q.length_dm - at > q.interval_dm)
        return false;
    for (const std::uint64_t dry : q.dry_after_dm)
        for (std::size_t i = 0; i < q.candidates.size(); ++i)
            if (q.candidates[i].at_dm > dry) {
                if ((subset >> i & 1) == 0)
                    return false;
                break;
            }
    return true;
}

Verdict brute_force(const StopQuestion& q) {
    Verdict best;
    for (std::uint32_t subset = 0; subset < (1u << q.candidates.size()); ++subset) {
        if (!keeps_interval(q, subset))
            continue;
        const auto stops = static_cast<std::size_t>(std::popcount(subset));
        std::int64_t score = 0;
        for (std::size_t i = 0; i < q.candidates.size(); ++i)
            score += (subset >> i & 1) != 0 ? q.candidates[i].score : 0;
        if (!best.possible || stops < best.stops || (stops == best.stops && score > best.score))
            best = {true, stops, score};
    }
    return best;
}

TEST(StopChoice, EqualsBruteForce) {
    TestRandom random(7);
    int possible = 0, impossible = 0, with_ford = 0;
    for (int round = 0; round < 6000; ++round) {
        std::vector<StopCandidate> candidates(random.below(11));
        for (StopCandidate& c : candidates)
            c = {random.below(500) * 1000u, random.chance(40) ? random.below(1500) : 0u,
                 static_cast<std::int32_t>(random.below(8))};
        std::sort(candidates.begin(), candidates.end(),
                  [](const StopCandidate& a, const StopCandidate& b) { return a.at_dm < b.at_dm; });
        std::vector<std::uint64_t> dry;
        if (random.chance(25))
            dry.push_back(random.below(500000));
        StopQuestion q;
        q.length_dm = 500000;
        q.interval_dm = 150000;
        q.since_dm = random.below(150001);
        q.candidates = candidates;
        q.dry_after_dm = dry;
        const Verdict expected = brute_force(q);
        const StopChoice choice = choose_stops(q);
        ASSERT_EQ(!choice.missing.has_value(), expected.possible) << "round " << round;
        if (!expected.possible) {
            ++impossible;
            continue;
        }
        ++possible;
        with_ford += dry.empty() ? 0 : 1;
        std::uint32_t subset = 0;
        std::int64_t score = 0;
        for (const std::size_t i : choice.chosen) {
            subset |= 1u << i;
            score += candidates[i].score;
        }
        ASSERT_TRUE(keeps_interval(q, subset)) << "round " << round;
        EXPECT_EQ(choice.chosen.size(), expected.stops) << "round " << round;
        EXPECT_EQ(score, expected.score) << "round " << round;
    }
    EXPECT_GT(possible, 500);
    EXPECT_GT(impossible, 500);
    EXPECT_GT(with_ford, 50);
}

// Naming a place inside the stretch that is said to miss one must make the route possible.
TEST(StopChoice, APlaceInTheMissingStretchHelps) {
    TestRandom random(11);
    int single = 0;
    for (int round = 0; round < 2000; ++round) {
        std::vector<StopCandidate> candidates(random.below(8));
        for (StopCandidate& c : candidates)
            c = {random.below(400) * 1000u, random.chance(30) ? random.below(1000) : 0u, 3};
        std::sort(candidates.begin(), candidates.end(),
                  [](const StopCandidate& a, const StopCandidate& b) { return a.at_dm < b.at_dm; });
        StopQuestion q;
        q.length_dm = 400000;
        q.interval_dm = 150000;
        q.candidates = candidates;
        const StopChoice choice = choose_stops(q);
        if (!choice.missing || choice.missing->more_than_one)
            continue;
        ++single;
        for (const std::uint64_t at : {choice.missing->from_dm, choice.missing->to_dm}) {
            std::vector<StopCandidate> more = candidates;
            more.push_back({at, 0, 3});
            std::sort(more.begin(), more.end(),
                      [](const StopCandidate& a, const StopCandidate& b) { return a.at_dm < b.at_dm; });
            q.candidates = more;
            EXPECT_FALSE(choose_stops(q).missing) << "round " << round << " at " << at;
        }
    }
    EXPECT_GT(single, 200);
}

TEST(StopChoice, ExactlyTheIntervalNeedsNoStop) {
    StopQuestion q;
    q.interval_dm = 150000;
    q.length_dm = 150000;
    EXPECT_FALSE(choose_stops(q).missing);
    q.length_dm = 150001;
    ASSERT_TRUE(choose_stops(q).missing);
    EXPECT_EQ(choose_stops(q).missing->from_dm, 1u);
    EXPECT_EQ(choose_stops(q).missing->to_dm, 150000u);
}

}  // namespace
}  // namespace loamway
