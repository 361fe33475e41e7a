// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_BELTS_KNOWN_H
#define LOAMWAY_SRC_DESK_BELTS_KNOWN_H

// The belts of a move: what the request says of them, over what the ledger knows.

#include <optional>

#include "ledger_desk.h"
#include "understood.h"

namespace loamway {

[[nodiscard]] BeltsNow belts_now(const MoveRequest& request, const Machine& machine,
                                 const std::optional<BeltRecord>& record);

/// What the readings of the ledger's set and of the request taught, those of the machine's profile where no
/// ledger knows the belts and they are not new.
[[nodiscard]] KnownHeat known_heat(const MoveRequest& request, const Machine& machine,
                                   const std::optional<BeltRecord>& record);

/// Belts as the ledger knows them have their own heights, price and rates of wear.
void take_record(const BeltRecord& record, PlanInputs& in, Learnt& learnt);

}  // namespace loamway

#endif
