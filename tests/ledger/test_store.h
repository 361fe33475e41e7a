// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_LEDGER_TEST_STORE_H
#define LOAMWAY_TESTS_LEDGER_TEST_STORE_H

// An empty store: a file of its own or, where tests/ledger/on_postgres runs the program, the server's
// database.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <string>

#include "loamway/ledger/ledger.h"
#include "support/test_files.h"

namespace loamway::test {

class LedgerPlace {
public:
    LedgerPlace() {
        if (m_server != nullptr) {
            EXPECT_EQ(query("drop schema public cascade; create schema public"), 0);
        }
    }
    [[nodiscard]] std::string place() const {
        return m_server != nullptr ? m_server : m_folder.file("the ledger.db");
    }
    [[nodiscard]] bool on_server() const { return m_server != nullptr; }
    [[nodiscard]] Ledger open(Duration wait = Duration::from_seconds(30)) const {
        return Ledger::open(place(), LedgerUse::write, wait);
    }
    /// A statement by the server's own client.
    [[nodiscard]] int query(const std::string& sql) const {
        return std::system(fmt::format("psql -q '{}' -c \"{}\" >/dev/null 2>&1", m_server, sql).c_str());
    }

private:
    const char* m_server = std::getenv("LOAMWAY_TEST_POSTGRES");
    TempDir m_folder;
};

inline Event ledger_event(EventKind kind, const std::string& machine, const std::string& belts,
                          std::int64_t at, Value data = Value(Value::Object{})) {
    Event e;
    e.kind = kind;
    e.machine = machine;
    e.belts = belts;
    e.at = {at};
    e.data = std::move(data);
    return e;
}

/// A machine "red" that carries belts "set".
inline void add_red_and_set(Ledger& ledger) {
    (void)ledger.write(ledger_event(EventKind::machine_added, "red", "", 0,
                                    Value::Object{{"profile", Value::Object{{"name", "m"}}}}));
    (void)ledger.write(ledger_event(EventKind::belts_added, "", "set", 0,
                                    Value::Object{{"new_bar_mm", 55}, {"worn_mm", 15}, {"price", 16000}}));
    (void)ledger.write(ledger_event(EventKind::fitted, "red", "set", 0));
}

inline Event field_hour(std::int64_t at) {
    return ledger_event(EventKind::field_work, "red", "set", at, Value::Object{{"hours", 1}});
}

}  // namespace loamway::test

#endif
