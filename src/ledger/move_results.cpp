// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/move_results.h"

#include <soci/soci.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "connection.h"
#include "loamway/base/time.h"
#include "schema.h"

namespace loamway {

struct MoveResults::Store : LedgerConnection {
    using LedgerConnection::LedgerConnection;
    soci::session& sql = *session;

    /// On a server the tables have a schema of their own: the database may hold a ledger as well.
    void enter_schema() const {
        if (sqlite)
            return;
        const auto there = [&] {
            int count = 0;
            sql << "select count(*) from pg_catalog.pg_namespace where nspname = 'loamway_results'",
                soci::into(count);
            return count > 0;
        };
        // Who may not make schemas can use one that is there.
        if (!guarded(there))
            in_transaction([&] {
                if (!there())
                    sql << "create schema loamway_results";
                return 0;
            });
        guarded([&] { sql << "set search_path to loamway_results"; });
    }
};

MoveResults::MoveResults(std::unique_ptr<Store> store) : m_store(std::move(store)) {}
MoveResults::MoveResults(MoveResults&&) noexcept = default;
MoveResults& MoveResults::operator=(MoveResults&&) noexcept = default;
MoveResults::~MoveResults() = default;

MoveResults MoveResults::open(const std::string& where, Duration wait) {
    auto store = std::make_unique<Store>(where, std::max(1, static_cast<int>(std::lround(wait.seconds()))),
                                         move_result_tables);
    store->connect(LedgerUse::write);
    store->enter_schema();
    store->bring_up();
    return MoveResults(std::move(store));
}

std::vector<bool> MoveResults::keep(std::span<const MoveResult> results) {
    return m_store->in_transaction([&] {
        std::vector<bool> out;
        const auto stored = static_cast<long long>(now().unix_seconds);
        for (const MoveResult& r : results) {
            soci::statement insert =
                (m_store->sql.prepare << "insert into move_result (run, move, digest, answer, tries, stored) "
                                         "values (:run, :move, :digest, :answer, :tries, :stored) "
                                         "on conflict do nothing",
                 soci::use(r.run), soci::use(r.move), soci::use(r.digest), soci::use(r.answer),
                 soci::use(r.tries), soci::use(stored));
            insert.execute(true);
            out.push_back(insert.get_affected_rows() > 0);
        }
        return out;
    });
}

bool MoveResults::has(const std::string& run, const std::string& move) const {
    return m_store->guarded([&] {
        int count = 0;
        m_store->sql << "select count(*) from move_result where run = :run and move = :move", soci::use(run),
            soci::use(move), soci::into(count);
        return count > 0;
    });
}

std::optional<MoveResult> MoveResults::find(const std::string& run, const std::string& move) const {
    return m_store->guarded([&]() -> std::optional<MoveResult> {
        MoveResult r{run, move, {}, {}, 1};
        m_store->sql << "select digest, answer, tries from move_result where run = :run and move = :move",
            soci::use(run), soci::use(move), soci::into(r.digest), soci::into(r.answer), soci::into(r.tries);
        return m_store->sql.got_data() ? std::optional(std::move(r)) : std::nullopt;
    });
}

RunCount MoveResults::count(const std::string& run) const {
    return m_store->guarded([&] {
        long long results = 0, tries = 0;
        m_store->sql << "select count(*), coalesce(sum(tries), 0) from move_result where run = :run",
            soci::use(run), soci::into(results), soci::into(tries);
        return RunCount{static_cast<std::size_t>(results), static_cast<std::size_t>(tries)};
    });
}

}  // namespace loamway
