// SPDX-License-Identifier: Apache-2.0
// Several processes on one store: none loses an event, one that waits too long is told so, one that is cut
// off in the middle leaves all or nothing. On SQLite and, through on_postgres, on a server.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <set>
#include <thread>

#include "loamway/base/error.h"
#include "test_store.h"

namespace loamway {
namespace {

using test::field_hour;
using test::LedgerPlace;

constexpr int told_so = 42;
/// Events in one transaction that take seconds; a server takes a way there and back for each statement.
int long_batch() {
    return std::getenv("LOAMWAY_TEST_POSTGRES") != nullptr ? 4000 : 30000;
}

/// Runs `work` in a process of its own, which ends with its result.
template <class Work>
pid_t in_process(const Work& work) {
    const pid_t child = ::fork();
    if (child != 0)
        return child;
    int status = 1;
    try {
        status = work();
    } catch (...) {
        status = 2;
    }
    std::_Exit(status);
}

int status_of(pid_t child) {
    int status = 0;
    ::waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

std::vector<Event> long_transaction() {
    std::vector<Event> out;
    for (int i = 0; i < long_batch(); ++i)
        out.push_back(field_hour(1000 + i));
    return out;
}

/// A process that begins a long transaction, says so and works on it.
class LongWriter {
public:
    explicit LongWriter(const std::string& place) {
        EXPECT_EQ(::pipe(m_pipe), 0);
        m_child = in_process([&] {
            Ledger ledger = Ledger::open(place, LedgerUse::write);
            const std::vector<Event> all = long_transaction();
            (void)!::write(m_pipe[1], "x", 1);
            try {
                (void)ledger.write_all(all);
            } catch (const Error& e) {
                const std::string line = e.what();
                return e.kind() == ErrorKind::io && line.find('\n') == std::string::npos ? told_so : 3;
            }
            return 0;
        });
        ::close(m_pipe[1]);
        char begun = 0;
        EXPECT_EQ(::read(m_pipe[0], &begun, 1), 1);
        ::close(m_pipe[0]);
        std::this_thread::sleep_for(std::chrono::milliseconds(200));
    }
    [[nodiscard]] pid_t process() const { return m_child; }
    [[nodiscard]] int status() const { return status_of(m_child); }

private:
    int m_pipe[2] = {-1, -1};
    pid_t m_child = 0;
};

TEST(LedgerKilled, ManyProcessesLoseNothing) {
    const LedgerPlace store;
    {
        Ledger ledger = store.open();
        test::add_red_and_set(ledger);
    }
    constexpr int processes = 8, each = 40;
    std::vector<pid_t> children;
    for (int p = 0; p < processes; ++p)
        children.push_back(in_process([&] {
            Ledger ledger = store.open();
            for (int i = 0; i < each; ++i) {
                Event e = field_hour(1000 * p + i);
                e.token = fmt::format("{} {}", p, i);
                (void)ledger.write(e);
            }
            return 0;
        }));
    for (const pid_t child : children)
        EXPECT_EQ(status_of(child), 0);
    const Ledger ledger = Ledger::open(store.place(), LedgerUse::read);
    ledger.verify();
    EventQuery q;
    q.kinds = {EventKind::field_work};
    std::set<std::string> tokens;
    std::set<std::int64_t> ids;
    for (const Event& e : ledger.events(q)) {
        tokens.insert(e.token);
        ids.insert(e.id);
    }
    EXPECT_EQ(tokens.size(), static_cast<std::size_t>(processes * each));
    EXPECT_EQ(ids.size(), tokens.size());
    EXPECT_DOUBLE_EQ(ledger.record("set").hours, processes * each);
}

TEST(LedgerKilled, WhoWaitsTooLongIsToldSoAndNothingIsLost) {
    const LedgerPlace store;
    {
        Ledger ledger = store.open();
        test::add_red_and_set(ledger);
    }
    const LongWriter other(store.place());
    // What comes before the other has the ledger is written; a slow machine or a sanitizer leaves room for
    // some.
    std::string said;
    int before = 0;
    while (said.empty() && before < 1000) {
        try {
            Ledger ledger = store.open(Duration::from_seconds(1));
            (void)ledger.write(field_hour(5));
            ++before;
        } catch (const Error& e) {
            said = e.what();
            EXPECT_EQ(e.kind(), ErrorKind::io);
        }
    }
    EXPECT_NE(said.find("another program has kept the ledger for 1 s (try again)"), std::string::npos)
        << said;
    EXPECT_EQ(other.status(), 0);
    Ledger ledger = store.open();
    (void)ledger.write(field_hour(5));
    EXPECT_DOUBLE_EQ(ledger.record("set").hours, long_batch() + before + 1);
}

TEST(LedgerKilled, CutOffInTheMiddleLeavesNothingOfIt) {
    const LedgerPlace store;
    {
        Ledger ledger = store.open();
        test::add_red_and_set(ledger);
        (void)ledger.write(field_hour(5));
    }
    const LongWriter other(store.place());
    if (store.on_server()) {
        // The server drops the connection; the writer sees an error in one line.
        ASSERT_EQ(
            store.query(
                "select pg_terminate_backend(pid) from pg_stat_activity where "
                "pid <> pg_backend_pid() and xact_start is not null and backend_type = 'client backend'"),
            0);
        EXPECT_EQ(other.status(), told_so);
    } else {
        ::kill(other.process(), SIGKILL);
        EXPECT_EQ(other.status(), -SIGKILL);
    }
    Ledger ledger = store.open();
    ledger.verify();
    EXPECT_DOUBLE_EQ(ledger.record("set").hours, 1);
    (void)ledger.write(field_hour(6));
    EXPECT_DOUBLE_EQ(ledger.record("set").hours, 2);
}

}  // namespace
}  // namespace loamway
