// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_LEDGER_STORE_H
#define LOAMWAY_SRC_LEDGER_STORE_H

// What a ledger asks of its store: reading events and names (store_read.cpp), checking and writing them
// (store_write.cpp).

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "belt_states.h"
#include "connection.h"
#include "loamway/ledger/ledger.h"

namespace loamway {

struct Ledger::Store : LedgerConnection {
    using LedgerConnection::LedgerConnection;
    soci::session& sql = *session;
    BeltStates states{*session};

    /// Where a walk over events begins: after this one.
    struct After {
        long long happened = 0, id = 0;
    };
    void each(const EventQuery& q, const std::optional<After>& after,
              const std::function<void(Event&&)>& take) const;
    [[nodiscard]] std::vector<Event> select(const EventQuery& q) const;
    [[nodiscard]] BeltTally tally(const std::string& belts, const std::optional<Instant>& until,
                                  const std::function<void(const BeltTally&, const Event&)>& seen) const;
    void keep_states(std::span<const Event> written) const;
    [[nodiscard]] std::optional<Event> find(std::int64_t id) const;
    /// Of the event with this token; 0 when there is none.
    [[nodiscard]] std::int64_t id_of(const std::string& token) const;
    [[nodiscard]] std::vector<std::string> names(const char* column, EventKind kind) const;
    [[nodiscard]] bool undone(std::int64_t id) const;
    [[nodiscard]] bool added(EventKind kind, const char* column, const std::string& name) const;
    [[nodiscard]] std::string fitted(const char* key, const std::string& name, Instant at,
                                     const char* wanted) const;
    void check_possible(const Event& event) const;
    [[nodiscard]] Written insert(const Event& event) const;
};

/// For what cannot have happened.
[[nodiscard]] Error impossible(const Event& e, std::string what, std::string what_to_do = {});

}  // namespace loamway

#endif
