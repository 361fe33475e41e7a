// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_LEDGER_SCHEMA_H
#define LOAMWAY_SRC_LEDGER_SCHEMA_H

// The tables of a ledger and those of a store of results, version by version. A migration is never changed
// once it has been released.

#include <string>
#include <vector>

namespace loamway {

constexpr int advisory_lock = 1819042160;  // any number, the same in every program that writes

/// What a store holds. The two kinds never share a file.
struct StoreTables {
    const char* called;         // in messages
    const char* version_table;  // holds one number
    const char* never_beside;   // the version table of the other kind
    int version;                // that this program writes
    /// Statements that bring a store from version - 1 to version.
    std::vector<std::string> (*migration_to)(int version, bool sqlite);
};
extern const StoreTables ledger_tables;
extern const StoreTables move_result_tables;

}  // namespace loamway

#endif
