// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_CONFIRM_H
#define LOAMWAY_PLAN_CONFIRM_H

// Which stretch of assumed surface is worth a look before the move: the one whose surface decides what is
// advised, else the one that moves the paved length most. A few stretches are tried, each once as all paved
// and once as all soft, on the routes the plan has; what they cost then comes from the same code as every
// cost of the plan.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "loamway/plan/plan.h"
#include "path.h"

namespace loamway {

/// As printed, and what options are compared by: cost_at_means.
struct SupposedCost {
    double total = 0, judged = 0;
};

/// A driven option as it was worked out.
struct PricedWay {
    std::string id;
    std::shared_ptr<const Path> path;
    /// What it costs in the light of what the setting supposes now; nothing when it cannot be done.
    std::function<std::optional<SupposedCost>()> price;
};

/// Assumed road of one name (or one class, where it has none) without a break.
struct AssumedStretch {
    std::size_t way = 0;                   // among the ways given
    std::vector<EdgeId> edges;             // ascending
    std::uint64_t from_dm = 0, to_dm = 0;  // along the option
    std::uint64_t length_dm = 0;           // of road, without what is driven into side ways
    double hard_dm = 0;                    // expected
    ArcId first, middle;                   // arcs of the stretch
    double worth = 0;  // rough: cost between paved and soft, times how open the question is
};

/// The stretches of all ways, those worth most first; a stretch that several ways share comes once.
[[nodiscard]] std::vector<AssumedStretch> assumed_stretches(Setting& setting,
                                                            const std::vector<PricedWay>& ways);

/// After the verdict: adds the stretch to confirm to the verdict's reasons and would_flip and to the flags of
/// the options that use it. Leaves `setting` supposing nothing.
void name_what_to_confirm(Setting& setting, const std::vector<PricedWay>& ways, Plan& plan);

}  // namespace loamway

#endif
