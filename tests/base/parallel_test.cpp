// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/parallel.h"

#include <gtest/gtest.h>

#include <atomic>
#include <set>
#include <stdexcept>

namespace loamway {
namespace {

TEST(WorkerPool, DoesEveryPieceOnceInEveryRound) {
    for (const unsigned threads : {1u, 2u, 3u, 8u}) {
        WorkerPool pool(threads);
        EXPECT_EQ(pool.thread_count(), threads);
        for (std::size_t count : {0u, 1u, 2u, 7u, 1000u}) {
            std::vector<std::atomic<int>> done(count);
            std::atomic<unsigned> wrong_worker = 0;
            pool.run(count, [&](std::size_t piece, unsigned worker) {
                ++done[piece];
                wrong_worker += worker < threads ? 0u : 1u;
            });
            for (const auto& d : done)
                EXPECT_EQ(d.load(), 1);
            EXPECT_EQ(wrong_worker.load(), 0u);
        }
    }
}

TEST(WorkerPool, RoundsSeeWhatRoundsBeforeWrote) {
    WorkerPool pool(4);
    std::vector<std::uint64_t> a(64, 1), b(64, 0);
    for (int round = 0; round < 200; ++round) {
        pool.run(64, [&](std::size_t i, unsigned) { b[i] = a[i] + a[(i + 1) % 64]; });
        a.swap(b);
        for (std::uint64_t& x : a)
            x %= 1000003;
    }
    for (const std::uint64_t x : a)
        EXPECT_EQ(x, a.front());  // a ring of equal numbers stays one
}

TEST(WorkerPool, OneThreadIsTheCallers) {
    WorkerPool pool(1);
    std::set<std::thread::id> seen;
    pool.run(10, [&](std::size_t, unsigned) { seen.insert(std::this_thread::get_id()); });
    EXPECT_EQ(seen, std::set<std::thread::id>{std::this_thread::get_id()});
}

TEST(WorkerPool, AnExceptionComesOutAndThePoolGoesOn) {
    for (const unsigned threads : {1u, 3u}) {
        WorkerPool pool(threads);
        std::atomic<int> begun = 0;
        const auto fail = [&](std::size_t piece, unsigned) {
            ++begun;
            if (piece == 5)
                throw std::runtime_error("piece 5");
        };
        EXPECT_THROW(pool.run(100000, fail), std::runtime_error);
        EXPECT_LT(begun.load(), 100000);
        std::atomic<int> done = 0;
        pool.run(20, [&](std::size_t, unsigned) { ++done; });
        EXPECT_EQ(done.load(), 20);
    }
}

}  // namespace
}  // namespace loamway
