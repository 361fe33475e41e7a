// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_CONDITIONAL_H
#define LOAMWAY_TAGS_CONDITIONAL_H

// "value @ (condition AND condition); value @ condition": clauses and their evaluation.

#include <string>
#include <string_view>
#include <vector>

#include "loamway/tags/vehicle.h"
#include "tri.h"

namespace loamway {

/// One clause. The views point into the raw value.
struct ConditionalClause {
    std::string_view value;
    std::string_view condition;  // without its outer brackets; empty when the clause has none
};
[[nodiscard]] std::vector<ConditionalClause> split_conditional(std::string_view raw);

/// Whether the clause applies. A clause without a value or a condition is not understood.
[[nodiscard]] Tri evaluate_clause(const ConditionalClause& clause, const VehicleView& vehicle,
                                  const Moment& moment);

/// Whether a condition speaks of who has business at the end of the road ("destination", "delivery").
[[nodiscard]] bool is_condition_of_purpose(std::string_view condition);

/// "verify:no @ wet": the flag for a clause that cannot be decided here.
[[nodiscard]] std::string verify_flag(const ConditionalClause& clause);

}  // namespace loamway

#endif
