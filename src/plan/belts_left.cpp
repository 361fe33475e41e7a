// SPDX-License-Identifier: Apache-2.0
#include "loamway/plan/belts_left.h"

#include <algorithm>

namespace loamway {

namespace {

// What of the way up to a place is hauled: places count along the whole option.
double hauled_before(const Option& o, double at_m) {
    double begins = 0, hauled = 0;
    for (const Leg& leg : o.legs) {
        if (leg.mode == Mode::haul)
            hauled += std::clamp(at_m - begins, 0.0, leg.length_m);
        begins += leg.length_m;
    }
    return hauled;
}

}  // namespace

PowderLeft powder_left(const Option& driven) {
    const double length_m = driven.length_m.value_or(0);
    PowderLeft left{false, length_m};
    for (const PlanStop& s : driven.stops)
        // A start stop is there only when something is done before leaving: powder.
        if (s.kind == "relube" || s.kind == "start")
            left = {true, std::clamp(length_m - (s.at_m - hauled_before(driven, s.at_m)), 0.0, length_m)};
    return left;
}

BeltsNow belts_after(const BeltsNow& before, const Option& option) {
    BeltsNow after = before;
    if (option.mode == Mode::haul || option.mode == Mode::none)
        return after;
    const PowderLeft left = powder_left(option);
    after.since_lube = (left.powdered ? Length() : before.since_lube) + Length::from_metres(left.since_m);
    if (!left.powdered)
        return after;
    after.since_lube_assumed = false;
    if (after.condition == BeltsNow::Condition::washed)
        after.condition = BeltsNow::Condition::run_in;
    return after;
}

}  // namespace loamway
