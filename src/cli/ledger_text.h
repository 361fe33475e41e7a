// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_LEDGER_TEXT_H
#define LOAMWAY_SRC_CLI_LEDGER_TEXT_H

// What the ledger says, as text and as JSON.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "loamway/belt/learnt_heat.h"
#include "loamway/ledger/belt_outlook.h"
#include "loamway/text/value.h"

namespace loamway {

struct BeltReport {
    BeltRecord record;
    std::optional<KnownHeat> heat;        // when the belts are on a machine
    Instant at;                           // as it was then
    std::map<std::string, int> removals;  // of all sets, by cause
};

[[nodiscard]] std::string belts_text(const BeltReport& report);
[[nodiscard]] Value belts_json(const BeltReport& report);
[[nodiscard]] std::string overview_text(const std::vector<BeltReport>& all,
                                        const std::vector<std::string>& machines,
                                        const std::map<std::string, int>& removals);
[[nodiscard]] std::string events_text(const std::vector<Event>& events, const std::vector<bool>& undone);

/// "estimate, no evidence of a belt's condition": stands beside every heat figure.
extern const char* const heat_words;

}  // namespace loamway

#endif
