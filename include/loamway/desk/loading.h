// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_DESK_LOADING_H
#define LOAMWAY_DESK_LOADING_H

// What a loading plan needs, out of the same request as a move's plan: from, to and the hour do not matter.

#include <optional>
#include <string>

#include "loamway/desk/desk.h"
#include "loamway/haul/loading_plan.h"

namespace loamway {

/// Reads machine, state, low-bed and ground; recipe and limits from the region when one is named.
/// `limits_file` takes the place of the region's table.
[[nodiscard]] LoadingInputs prepare_loading(const MoveRequest& request,
                                            const std::optional<std::string>& limits_file);
/// The same where the region is open already.
[[nodiscard]] LoadingInputs prepare_loading(const MoveRequest& request, const KeptOpen& kept,
                                            const std::optional<std::string>& limits_file);

}  // namespace loamway

#endif
