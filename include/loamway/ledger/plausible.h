// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_PLAUSIBLE_H
#define LOAMWAY_LEDGER_PLAUSIBLE_H

// What people write into a ledger by hand is looked at for slips of the pen before it is kept. Imported
// events are not: what another ledger holds has happened. Pure functions.

#include <span>
#include <string>
#include <string_view>

#include "loamway/base/units.h"
#include "loamway/ledger/event.h"

namespace loamway {

/// Why these (mm, bar by bar) cannot be heights of bars of one set, in words; empty when they can. Bounds
/// (assumption): each from a tenth of a new bar below worn out to a tenth above new, and no two further apart
/// than half of what lies between new and worn out.
[[nodiscard]] std::string implausible_heights(const BeltsAdded& set, std::span<const double> mm);

/// Why a move cannot have been as fast as this, in words; empty when it can, or says no hours. Bound
/// (assumption): a quarter above the machine's top speed, with hours noted to a tenth.
[[nodiscard]] std::string implausible_speed(const MoveDone& move, Speed top);

/// Input Error when it is more than a day ahead of the clock; `what` says in the message what gave it.
void check_happened(Instant at, Instant now, std::string_view what);

}  // namespace loamway

#endif
