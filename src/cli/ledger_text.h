// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_CLI_LEDGER_TEXT_H
#define LOAMWAY_SRC_CLI_LEDGER_TEXT_H

// What the ledger says, as text.

#include <string>
#include <vector>

#include "loamway/ledger/belt_report.h"

namespace loamway {

/// `later`: it holds what is noted for after its moment, too.
[[nodiscard]] std::string belts_text(const BeltReport& report, bool later);
[[nodiscard]] std::string overview_text(const LedgerReport& report);
[[nodiscard]] std::string events_text(const std::vector<Event>& events, const std::vector<bool>& undone);

}  // namespace loamway

#endif
