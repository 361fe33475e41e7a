// SPDX-License-Identifier: Apache-2.0
// Writers that are killed while they write: what was acknowledged is there, and the store is whole. Runs on
// SQLite and, through on_postgres, on a server.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <set>
#include <thread>

#include "loamway/base/error.h"
#include "loamway/ledger/ledger.h"
#include "support/test_files.h"

namespace loamway {
namespace {

Event field_hour(int i) {
    Event e;
    e.kind = EventKind::field_work;
    e.machine = "red";
    e.belts = "set";
    e.at = {1000 + i};
    e.data = Value(Value::Object{{"hours", 1}});
    return e;
}

void add_names(Ledger& ledger) {
    Event machine = field_hour(0), belts = field_hour(0);
    machine.kind = EventKind::machine_added;
    machine.belts.clear();
    machine.data = Value(Value::Object{{"profile", Value(Value::Object{{"name", "m"}})}});
    belts.kind = EventKind::belts_added;
    belts.machine.clear();
    belts.data = Value(Value::Object{{"new_bar_mm", 55}, {"worn_mm", 15}});
    ledger.write(machine);
    ledger.write(belts);
}

/// In a process of its own: writes until it is killed, and says each number once it has been acknowledged.
[[noreturn]] void write_for_ever(const std::string& place, int pipe) {
    try {
        Ledger ledger = Ledger::open(place, LedgerUse::write);
        for (int i = 0;; ++i) {
            const std::int64_t id = ledger.write(field_hour(i)).id;
            if (::write(pipe, &id, sizeof id) != sizeof id)
                std::_Exit(1);
        }
    } catch (...) {
        std::_Exit(2);
    }
}

std::vector<std::int64_t> numbers_said(int pipe) {
    std::vector<std::int64_t> out;
    std::int64_t id = 0;
    while (::read(pipe, &id, sizeof id) == sizeof id)
        out.push_back(id);
    return out;
}

TEST(LedgerKilled, KilledWritersLoseNothingThatWasAcknowledged) {
    const char* server = std::getenv("LOAMWAY_TEST_POSTGRES");
    const test::TempDir folder;
    const std::string place = server != nullptr ? server : folder.file("ledger.db");
    if (server != nullptr) {
        ASSERT_EQ(
            std::system(
                fmt::format("psql -q '{}' -c 'drop schema public cascade; create schema public' 2>/dev/null",
                            server)
                    .c_str()),
            0);
    }
    {
        Ledger ledger = Ledger::open(place, LedgerUse::write);
        add_names(ledger);
    }
    std::mt19937 random(7);
    std::set<std::int64_t> acknowledged;
    int kills = 0;
    while (acknowledged.size() < 500 || kills < 10) {
        int ends[2];
        ASSERT_EQ(::pipe(ends), 0);
        const pid_t child = ::fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            ::close(ends[0]);
            write_for_ever(place, ends[1]);
        }
        ::close(ends[1]);
        std::this_thread::sleep_for(std::chrono::milliseconds(30 + random() % 200));
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        ASSERT_TRUE(WIFSIGNALED(status)) << "the writer ended by itself: " << status;
        for (const std::int64_t id : numbers_said(ends[0]))
            EXPECT_TRUE(acknowledged.insert(id).second) << "number given twice: " << id;
        ::close(ends[0]);
        ++kills;
    }
    const Ledger ledger = Ledger::open(place, LedgerUse::read);
    ledger.verify();
    EventQuery q;
    q.belts = "set";
    std::set<std::int64_t> there;
    for (const Event& e : ledger.events(q))
        there.insert(e.id);
    for (const std::int64_t id : acknowledged)
        EXPECT_TRUE(there.count(id)) << "acknowledged and gone: " << id;
    // Written, but killed before it could say so: at most one a kill.
    EXPECT_LE(there.size(), acknowledged.size() + 1 + static_cast<std::size_t>(kills));
}

// A file that may not grow stands for a full disk: one clear line, and what was there stays.
TEST(LedgerKept, NoRoomLeftKeepsWhatWasThere) {
    const test::TempDir folder;
    const std::string place = folder.file("ledger.db");
    {
        Ledger ledger = Ledger::open(place, LedgerUse::write);
        add_names(ledger);
    }
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        std::signal(SIGXFSZ, SIG_IGN);
        const rlimit small{std::filesystem::file_size(place) + 40000,
                           std::filesystem::file_size(place) + 40000};
        ::setrlimit(RLIMIT_FSIZE, &small);
        try {
            Ledger ledger = Ledger::open(place, LedgerUse::write);
            for (int i = 0; i < 100000; ++i)
                ledger.write(field_hour(i));
        } catch (const Error& e) {
            std::_Exit(
                e.kind() == ErrorKind::io && std::string(e.what()).find('\n') == std::string::npos ? 42 : 43);
        }
        std::_Exit(44);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 42);
    Ledger ledger = Ledger::open(place, LedgerUse::write);
    ledger.verify();
    const std::size_t kept = ledger.events().size();
    EXPECT_GT(kept, 2u);
    ledger.write(field_hour(1));
    EXPECT_EQ(ledger.events().size(), kept + 1);
}

}  // namespace
}  // namespace loamway
