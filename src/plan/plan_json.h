// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_PLAN_PLAN_JSON_H
#define LOAMWAY_SRC_PLAN_PLAN_JSON_H

#include <string_view>

namespace loamway {

/// Renaming or removing a key of the plan JSON needs a new number; adding one does not.
constexpr std::string_view plan_schema = "loamway.plan/1";

}  // namespace loamway

#endif
