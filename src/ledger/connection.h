// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_LEDGER_CONNECTION_H
#define LOAMWAY_SRC_LEDGER_CONNECTION_H

// One connection to a store, SQLite or PostgreSQL: opening, the tables' version, transactions, and every
// fault of the library turned into an Error.

#include <memory>
#include <string>

#include "loamway/base/error.h"
#include "loamway/ledger/ledger.h"
#include "schema.h"

namespace soci {
class session;
}

namespace loamway {

class LedgerConnection {
public:
    LedgerConnection(std::string place, int wait_seconds, const StoreTables& tables);
    ~LedgerConnection();
    LedgerConnection(const LedgerConnection&) = delete;
    LedgerConnection& operator=(const LedgerConnection&) = delete;

    const std::string where;
    const bool sqlite;
    const int wait_seconds;  // for another process that writes
    const StoreTables& tables;
    const std::unique_ptr<soci::session> session;

    void connect(LedgerUse use);
    /// 0: no tables yet.
    [[nodiscard]] int version() const;
    /// Makes the tables, or brings those of an older version up.
    void bring_up() const;

    template <class Work>
    auto guarded(Work&& work) const {
        try {
            return work();
        } catch (...) {
            rethrow();
        }
    }

    /// All of `work` or nothing. One writer at a time: what it checks stays true until it is kept.
    template <class Work>
    auto in_transaction(Work&& work) const {
        return between([this] { begin(); }, work);
    }

    /// Several reads that see one state of the store.
    template <class Work>
    auto in_one_view(Work&& work) const {
        return between([this] { begin_view(); }, work);
    }

private:
    template <class Begin, class Work>
    auto between(Begin&& begin_it, Work&& work) const {
        return guarded([&] {
            begin_it();
            try {
                auto result = work();
                commit();
                return result;
            } catch (...) {
                roll_back();
                throw;
            }
        });
    }
    void begin_view() const;
    /// What is being caught, as an Error when it is the library's.
    [[noreturn]] void rethrow() const;
    [[nodiscard]] bool has_table(const std::string& name) const;
    void refuse_the_other_kind() const;
    void begin() const;
    void commit() const;
    void roll_back() const noexcept;
};

}  // namespace loamway

#endif
