// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_DESK_BELTS_H
#define LOAMWAY_DESK_BELTS_H

// A machine and its belts as they are at a moment, out of the same request as a move's plan: neither places
// nor a region are needed.

#include <optional>

#include "loamway/desk/desk.h"
#include "loamway/ledger/belt_record.h"

namespace loamway {

struct MachineBelts {
    Machine machine;
    BeltsNow belts;
    std::optional<BeltRecord> record;  // of the ledger's set, where the request means one
};

/// Reads machine, state, belts, belts_state and ledger.
[[nodiscard]] MachineBelts prepare_belts(const MoveRequest& request, Instant at);

}  // namespace loamway

#endif
