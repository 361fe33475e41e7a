// SPDX-License-Identifier: Apache-2.0
// Programs that are killed at random moments and started again: a batch on one machine, and publisher,
// workers and broker across machines. Nothing is lost, nothing is answered twice, and the bytes are those of
// a batch that nobody disturbed. LOAMWAY_TEST_MOVES sets how many moves the second plans (queue_5000 beside
// this file); on_postgres gives it a server for its results.
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <iostream>
#include <random>
#include <sstream>
#include <thread>

#include "broker.h"
#include "demo_moves.h"
#include "loamway/ledger/move_results.h"
#include "processes.h"
#include "support/demo_region.h"

namespace loamway {
namespace {

using namespace std::chrono_literals;
using test::Child;

std::string joined(const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines)
        out += line + "\n";
    return out;
}

std::size_t lines_in(const std::string& text, std::string_view with) {
    std::istringstream in(text);
    std::size_t out = 0;
    for (std::string line; std::getline(in, line);)
        out += line.find(with) != std::string::npos ? 1 : 0;
    return out;
}

class Killed : public ::testing::Test {
protected:
    void SetUp() override { test::write_demo_region(m_dir.file("demo.region")); }
    void write_moves(int count) { m_moves = m_dir.write("moves.jsonl", joined(test::cheap_moves(count))); }
    [[nodiscard]] std::vector<std::string> batch(const std::string& out,
                                                 const std::vector<std::string>& more = {}) const {
        std::vector<std::string> all{LOAMWAY_PROGRAM, "batch",
                                     "--region",      m_dir.file("demo.region"),
                                     "--places",      test::source_path("regions/demo/places.geojson"),
                                     "--no-choices",  "-o",
                                     m_dir.file(out)};
        all.insert(all.end(), more.begin(), more.end());
        return all;
    }
    [[nodiscard]] Child start(const std::vector<std::string>& command, const std::string& log) const {
        return Child(command, m_dir.file(log), m_moves);
    }
    void undisturbed() {
        const auto begin = std::chrono::steady_clock::now();
        ASSERT_EQ(start(batch("undisturbed"), "undisturbed.log").wait(1200s), 0)
            << test::slurp(m_dir.file("undisturbed.log"));
        m_took =
            std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() - begin);
        m_wanted = test::slurp(m_dir.file("undisturbed"));
    }
    test::TempDir m_dir;
    std::string m_moves, m_wanted;
    std::chrono::milliseconds m_took{};  // undisturbed
    std::mt19937 m_random{11};
};

TEST_F(Killed, ABatchGoesOnToTheSameBytes) {
    write_moves(60);
    undisturbed();
    int kills = 0;
    for (int status = -1; status != 0;) {
        Child run = start(batch("killed", {"--resume"}), "killed.log");
        if (kills < 8) {
            std::this_thread::sleep_for(std::chrono::milliseconds(20 + m_random() % 200));
            if (run.runs()) {
                run.end(SIGKILL);
                ++kills;
                continue;
            }
        }
        status = run.wait(600s);
        ASSERT_EQ(status, 0) << test::slurp(m_dir.file("killed.log"));
    }
    EXPECT_GT(kills, 2);
    EXPECT_TRUE(test::slurp(m_dir.file("killed")) == m_wanted);
}

class QueueKilled : public Killed {
protected:
    static constexpr int workers = 3;

    void SetUp() override {
        Killed::SetUp();
        if (const char* server = std::getenv("LOAMWAY_TEST_POSTGRES"))
            m_results = server;
    }
    [[nodiscard]] Child worker(int i) const {
        return start(
            {LOAMWAY_PROGRAM, "worker", "--queue", m_broker.url(), "--results", m_results, "--region",
             m_dir.file("demo.region"), "--places", test::source_path("regions/demo/places.geojson"),
             // Under a sanitizer a move takes longer than its worker lives, several times in a row.
             "--threads", "1", "--sign-of-life", "2", "--tries", "1000"},
            "worker" + std::to_string(i) + ".log");
    }
    [[nodiscard]] Child publisher() const {
        return start(batch("queued", {"--resume", "--queue", m_broker.url(), "--results", m_results, "--run",
                                      "killed-test", "--ahead", "300"}),
                     "publisher.log");
    }
    /// Kills something, and starts it again after a moment.
    void disturb(Child& publishing) {
        const auto moment = std::chrono::milliseconds(m_random() % 300);
        const auto what = m_random() % 11;
        if (m_broker_kills == 0 || what < 2) {
            m_broker.kill();
            std::this_thread::sleep_for(moment);
            m_broker.start();
            ++m_broker_kills;
        } else if (what < 5) {
            if (!publishing.runs())
                return;
            publishing.end(SIGKILL);
            publishing = publisher();
            ++m_publisher_kills;
        } else {
            Child& w = m_workers[what % workers];
            w.end(SIGKILL);
            std::this_thread::sleep_for(moment);
            w = worker(static_cast<int>(what % workers));
            ++m_worker_kills;
        }
    }
    [[nodiscard]] std::size_t said_by_workers(std::string_view words) const {
        std::size_t out = 0;
        for (int i = 0; i < workers; ++i)
            out += lines_in(test::slurp(m_dir.file("worker" + std::to_string(i) + ".log")), words);
        return out;
    }

    test::QueueServer m_broker;
    std::string m_results = m_dir.file("results.db");
    std::vector<Child> m_workers;
    int m_broker_kills = 0, m_publisher_kills = 0, m_worker_kills = 0;
};

TEST_F(QueueKilled, EveryMoveHasOneResultAndItIsTheBatchs) {
    const char* wish = std::getenv("LOAMWAY_TEST_MOVES");
    const int moves = wish != nullptr ? std::atoi(wish) : 150;
    write_moves(moves);
    undisturbed();
    const auto begin = std::chrono::steady_clock::now();
    for (int i = 0; i < workers; ++i)
        m_workers.push_back(worker(i));
    Child publishing = publisher();
    // Few moves are soon done: something has to die while they are. Where all is slow, under a sanitizer or
    // beside other work, something has to be answered between two deaths.
    const int longest_ms =
        std::max(std::clamp(moves / 2, 60, 600), static_cast<int>(8 * m_took.count() / moves));
    while (publishing.runs()) {
        const int rest_ms = static_cast<int>(m_random() % 600) % longest_ms;
        std::this_thread::sleep_for(std::chrono::milliseconds(longest_ms / 3 + rest_ms));
        disturb(publishing);
    }
    ASSERT_EQ(publishing.wait(1s), 0) << test::slurp(m_dir.file("publisher.log"));
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
    EXPECT_TRUE(test::slurp(m_dir.file("queued")) == m_wanted);
    // What workers had when they were killed comes to others, who find the answers there.
    std::size_t left = 1;
    for (int i = 0; i < 600 && left > 0; ++i) {
        std::this_thread::sleep_for(100ms);
        std::size_t sum = 0;
        for (const auto& [shelf, count] :
             Broker({m_broker.url(), {}, {}}, Duration::from_seconds(20)).all_waiting())
            sum += count;
        left = sum;
    }
    EXPECT_EQ(left, 0u);
    for (Child& w : m_workers) {
        ASSERT_TRUE(w.runs());
        w.end(SIGTERM);
        EXPECT_EQ(w.wait(1s), 0);
    }
    const RunCount count = MoveResults::open(m_results).count("killed-test");
    EXPECT_EQ(count.results, static_cast<std::size_t>(moves));
    EXPECT_EQ(said_by_workers("set aside: "), 0u);
    const int kills = m_broker_kills + m_publisher_kills + m_worker_kills;
    EXPECT_GT(kills, 3);
    std::cout << moves << " moves in " << took.count() << " s; killed: broker " << m_broker_kills
              << ", workers " << m_worker_kills << ", publisher " << m_publisher_kills
              << " times; answered after having been handed "
              << "out before: " << count.tries - count.results << " more deliveries; duplicates suppressed: "
              << said_by_workers(" had its answer: acknowledged") << "\n";
}

}  // namespace
}  // namespace loamway
