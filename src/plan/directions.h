// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_DIRECTIONS_H
#define LOAMWAY_PLAN_DIRECTIONS_H

// Turn-by-turn directions along a path, and where a stop is in words.

#include <string>
#include <vector>

#include "path.h"

namespace loamway {

[[nodiscard]] std::vector<Instruction> directions(const Setting& setting, const Path& path);

/// "gravel track mouth, right, 120 m after the bridge; drive in 24 m, clear of the road"
[[nodiscard]] std::string how_to_find(const Setting& setting, const Path& path, const PathStop& at,
                                      const ChosenStop& stop, const std::vector<Instruction>& instructions);

}  // namespace loamway

#endif
