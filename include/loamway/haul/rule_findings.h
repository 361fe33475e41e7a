// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_HAUL_RULE_FINDINGS_H
#define LOAMWAY_HAUL_RULE_FINDINGS_H

// Sizes and masses of a driven machine or a loaded low-bed beside published limits and a recipe's
// thresholds. A finding says what was compared with what, where the figure comes from and that the local code
// decides; it decides nothing itself. Repeats are summed up in one finding. Pure functions.

#include <string>
#include <string_view>
#include <vector>

#include "loamway/haul/axle_statics.h"
#include "loamway/haul/limits.h"
#include "loamway/profile/machine.h"
#include "loamway/profile/recipe.h"

namespace loamway {

enum class Concern { note, check, stop };
[[nodiscard]] std::string_view name_of(Concern c);

struct Finding {
    std::string kind;  // width, height, length, mass, axle, bridge_formula, permit, escort, daylight,
                       // marking, within, loading
    Concern concern = Concern::note;
    std::string text;
};

/// A low-bed with its load as the road sees it.
struct LoadedLowBed {
    Length width, height, length, kingpin_to_rear;
    Mass mass;
    AxleLoads loads;
    TruckAxles axles;
};

/// Without a table only the recipe's thresholds are compared. The mass of the machine's heaviest axle stands
/// for its axle loads.
[[nodiscard]] std::vector<Finding> machine_findings(const Machine& machine, const WorkingState& state,
                                                    const LimitsTable* limits, const Recipe& recipe);
[[nodiscard]] std::vector<Finding> low_bed_findings(const LoadedLowBed& loaded, const LimitsTable* limits,
                                                    const Recipe& recipe);

}  // namespace loamway

#endif
