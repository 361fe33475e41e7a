// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_MOVE_RESULTS_H
#define LOAMWAY_LEDGER_MOVE_RESULTS_H

// The store of answers to moves that were planned on many machines: an SQLite file of its own (workers of one
// machine), or the schema loamway_results of a PostgreSQL database (workers of many). It is never part of a
// ledger file. Each move of a run has one result: the first that is kept stays, whoever comes later. What was
// kept is on the disk when the call returns; several processes may write at once. One object a thread.
//
// Table move_result: run, move (both the primary key), digest, answer, tries, stored (Unix seconds).

#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "loamway/base/units.h"

namespace loamway {

struct MoveResult {
    std::string run;     // name of the run
    std::string move;    // key of the move within it
    std::string digest;  // of what was asked, so that another question of the same key is noticed
    std::string answer;  // one line of JSON
    int tries = 1;       // how often the move had been handed out when it was answered
};

struct RunCount {
    std::size_t results = 0;
    std::size_t tries = 0;  // of all of them together
};

class MoveResults {
public:
    /// Made when it is not there. Errors: input (a ledger, another file, a newer version, a wrong address),
    /// io (disk full, database away, no permission). Addresses are shown without their password.
    [[nodiscard]] static MoveResults open(const std::string& where,
                                          Duration wait = Duration::from_seconds(30));
    MoveResults(MoveResults&&) noexcept;
    MoveResults& operator=(MoveResults&&) noexcept;
    ~MoveResults();

    /// All in one transaction; says of each whether it was kept: false when the move had a result.
    std::vector<bool> keep(std::span<const MoveResult> results);
    [[nodiscard]] bool has(const std::string& run, const std::string& move) const;
    [[nodiscard]] std::optional<MoveResult> find(const std::string& run, const std::string& move) const;
    [[nodiscard]] RunCount count(const std::string& run) const;

private:
    struct Store;
    explicit MoveResults(std::unique_ptr<Store> store);
    std::unique_ptr<Store> m_store;
};

}  // namespace loamway

#endif
