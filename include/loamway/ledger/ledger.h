// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_LEDGER_H
#define LOAMWAY_LEDGER_LEDGER_H

// The store of events: an SQLite file, made on first use, or a PostgreSQL database named by an address
// (postgresql://user@host/name). Both hold the same tables; a store of an older version is brought up when it
// is opened for writing, one of a newer version is refused. Every write is one transaction that is on the
// disk when the call returns. Several processes may write at once: they wait for each other. Events can be
// added and read, never changed. One object a thread.

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "loamway/base/units.h"
#include "loamway/ledger/belt_record.h"
#include "loamway/ledger/event.h"

namespace loamway {

enum class LedgerUse {
    read,   // not_found Error when there is no ledger yet
    write,  // made when it is not there
};

struct EventQuery {
    std::string machine, belts;    // empty: any
    std::vector<EventKind> kinds;  // empty: any
    std::optional<Instant> since;  // happened later
    std::optional<Instant> until;  // happened no later
    bool with_undone = false;      // undone events and their undoing too
};

struct Written {
    std::int64_t id = 0;
    bool was_there = false;  // an event with this token had been written before
};

class Ledger {
public:
    /// Errors: input (not a ledger, a newer version, a wrong address), not_found, io (disk full, database
    /// away, no permission). Addresses are shown without their password.
    /// `wait` is how long another writer is waited for before an io Error says so.
    [[nodiscard]] static Ledger open(const std::string& where, LedgerUse use,
                                     Duration wait = Duration::from_seconds(30));
    Ledger(Ledger&&) noexcept;
    Ledger& operator=(Ledger&&) noexcept;
    ~Ledger();

    /// Checks and keeps one event; its id and noted are given here. Input Error for a name nobody added,
    /// belts fitted twice and the like: what cannot have happened is refused.
    Written write(const Event& event);
    /// All or none, in their order.
    std::vector<Written> write_all(std::span<const Event> events);
    /// The same for events out of another ledger: an undoing names what it undoes by the number it had there.
    std::vector<Written> import(std::span<const Event> events);

    /// In the order in which they happened, those of one moment as written.
    [[nodiscard]] std::vector<Event> events(const EventQuery& query = {}) const;
    [[nodiscard]] std::optional<Event> event(std::int64_t id) const;
    /// The state of belts at a moment: belt_record() of their events until then, from what the store has
    /// added up on the way. not_found Error for belts that had not been added.
    [[nodiscard]] BeltRecord record(const std::string& belts, std::optional<Instant> until = {}) const;
    [[nodiscard]] bool is_undone(std::int64_t id) const;
    /// The event that was written with this token, undone or not; none for an empty one.
    [[nodiscard]] std::optional<Event> with_token(const std::string& token) const;

    [[nodiscard]] std::vector<std::string> machine_names() const;
    [[nodiscard]] std::vector<std::string> belts_names() const;
    /// The latest profile of a machine, as read_machine() takes it.
    [[nodiscard]] std::optional<Value> profile(const std::string& machine) const;
    /// The belts on a machine at a moment; empty when none are known.
    [[nodiscard]] std::string belts_on(const std::string& machine, Instant at) const;
    /// The machine that carries these belts at a moment; empty when none does.
    [[nodiscard]] std::string machine_of(const std::string& belts, Instant at) const;

    /// Input Error unless the store is whole (SQLite: the database's own check; both: every event reads
    /// back).
    void verify() const;

private:
    struct Store;
    explicit Ledger(std::unique_ptr<Store> store);
    std::unique_ptr<Store> m_store;
};

/// Whether a ledger's place is the address of a database rather than a file.
[[nodiscard]] bool is_ledger_address(const std::string& where);

/// A ledger's place as it can be shown: without a password.
[[nodiscard]] std::string shown_ledger(const std::string& where);

/// Where the ledger is when nobody says: LOAMWAY_LEDGER, else loamway.ledger in the working folder.
[[nodiscard]] std::string default_ledger();

}  // namespace loamway

#endif
