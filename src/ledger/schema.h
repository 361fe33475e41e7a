// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_LEDGER_SCHEMA_H
#define LOAMWAY_SRC_LEDGER_SCHEMA_H

// The tables of a ledger, version by version. A migration is never changed once it has been released.

#include <string>
#include <vector>

namespace loamway {

constexpr int schema_version = 2;
constexpr int advisory_lock = 1819042160;  // any number, the same in every program that writes

/// Statements that bring a store from version - 1 to version.
[[nodiscard]] std::vector<std::string> migration_to(int version, bool sqlite);

}  // namespace loamway

#endif
