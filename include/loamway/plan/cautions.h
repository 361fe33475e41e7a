// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_CAUTIONS_H
#define LOAMWAY_PLAN_CAUTIONS_H

// What every output that a person acts on must say. Common practice, no source.

#include <string>
#include <vector>

namespace loamway {

/// Cautions that hold for every move, most urgent first. `hauled` adds those for the low-bed.
[[nodiscard]] std::vector<std::string> standard_cautions(bool hauled = true);

/// How to lubricate, step by step, for a machine with that many belts.
[[nodiscard]] std::vector<std::string> relube_steps(int belts);

/// What to look at on a check stop.
[[nodiscard]] std::vector<std::string> check_steps(int belts);

/// What to do while the bars cool.
[[nodiscard]] std::vector<std::string> cooling_steps();

}  // namespace loamway

#endif
