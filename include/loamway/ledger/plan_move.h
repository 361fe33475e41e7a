// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_PLAN_MOVE_H
#define LOAMWAY_LEDGER_PLAN_MOVE_H

// A move that was planned and then driven, as the ledger keeps it.

#include <optional>

#include "loamway/base/units.h"
#include "loamway/ledger/event.h"
#include "loamway/plan/plan.h"

namespace loamway {

/// The driven part of an option: the planned figures stand for what was driven. Input Error for an option
/// that hauls only or has no route.
[[nodiscard]] MoveDone move_done(const Plan& plan, const Option& option);

/// What the driver noted; empty: as planned.
struct AsDriven {
    std::optional<Length> length;     // trip meter, driven metres alone
    std::optional<Instant> departed;  // with `arrived` it says how long it took
    std::optional<Instant> arrived;
};

/// The move as it was driven, what was planned beside it. Surfaces, wear and fuel change as the length does,
/// each in proportion; hours are what lies between departure and arrival less what was planned for standing
/// and hauling. Input Error for figures that cannot be.
[[nodiscard]] MoveDone move_done(const Plan& plan, const Option& option, const AsDriven& driven);

}  // namespace loamway

#endif
