// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_EXCHANGE_PLAN_LAYERS_H
#define LOAMWAY_SRC_EXCHANGE_PLAN_LAYERS_H

#include <vector>

#include "loamway/geodata/vector_file.h"
#include "loamway/plan/plan.h"

namespace loamway {

/// An option as layers: legs (driven or hauled), stops, segments (one surface each), flags. Lengths in the
/// plan's units, named in the field: length_km or length_mi.
[[nodiscard]] std::vector<VectorLayer> plan_layers(const Plan& plan, const Option& option);

}  // namespace loamway

#endif
