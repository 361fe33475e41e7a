// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PROFILE_LOADING_KEYS_H
#define LOAMWAY_SRC_PROFILE_LOADING_KEYS_H

// The keys of a machine document that only decks and ramps ask for. What is left out follows from other keys;
// defaults that need the first working state are filled in when it is read.

#include "loamway/profile/machine.h"
#include "loamway/text/table.h"

namespace loamway {

/// gauge_mm of [belts]; zero until the first state says how wide the machine is.
[[nodiscard]] Length read_gauge(Table& belts, Length belt_width, std::vector<std::string>& assumed);
/// [loading], which may be missing.
void read_loading(Machine& m, std::optional<Table> table);
/// The loading keys of one state; `m` holds belts, [loading] and the states before it.
void read_state_loading(Table& state, Machine& m, WorkingState& s);

}  // namespace loamway

#endif
