// SPDX-License-Identifier: Apache-2.0
#include "powder_first.h"

#include <optional>
#include <utility>

namespace loamway {

namespace {

std::optional<double> cost_of(const Plan& plan) {
    const Option* o = plan.find_option(plan.verdict.option);
    return o != nullptr && o->feasible ? o->cost.total : std::nullopt;
}

}  // namespace

Plan plan_or_powder_first(const PlanInputs& in, bool& powder_first) {
    powder_first = false;
    Plan plan = make_plan(in);
    if (!(in.belts.since_lube > Length()) || in.belts.since_lube >= in.rates.relube_interval)
        return plan;
    PlanInputs powdered = in;
    powdered.powder_first = PowderFirst::yes;
    Plan other = make_plan(powdered);
    const std::optional<double> as_is = cost_of(plan), then = cost_of(other);
    powder_first = then && (!as_is || *then < *as_is) && other.verdict.mode != Mode::haul;
    return powder_first ? std::move(other) : std::move(plan);
}

}  // namespace loamway
