// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_BELT_REPORT_H
#define LOAMWAY_LEDGER_BELT_REPORT_H

// What a ledger says of its belts at a moment, and the one JSON form of it (schema loamway.ledger/1, unit in
// every key) that the command and the server give alike.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "loamway/belt/learnt_heat.h"
#include "loamway/ledger/belt_record.h"
#include "loamway/ledger/ledger.h"
#include "loamway/text/value.h"

namespace loamway {

struct BeltReport {
    BeltRecord record;
    std::optional<KnownHeat> heat;        // when the belts are on a machine
    Instant at;                           // as it was then
    std::map<std::string, int> removals;  // of all sets, by cause
};

struct LedgerReport {
    std::vector<BeltReport> belts;
    std::vector<std::string> machines;
    std::map<std::string, int> removals;  // by cause
};

/// The latest profile of a machine, or nullopt.
[[nodiscard]] std::optional<Machine> machine_named(const Ledger& ledger, const std::string& name);

/// Of one set, of all when `belts` is empty; as it was at `until`, now when that is not given. Not found
/// Error for a set that was never added.
[[nodiscard]] LedgerReport report_on_ledger(const Ledger& ledger, const std::string& belts = {},
                                            const std::optional<Instant>& until = {});
[[nodiscard]] Value to_value(const LedgerReport& report);

/// "estimate, no evidence of a belt's condition": stands beside every heat figure.
extern const char* const heat_words;

}  // namespace loamway

#endif
