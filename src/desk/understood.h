// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_UNDERSTOOD_H
#define LOAMWAY_SRC_DESK_UNDERSTOOD_H

#include "loamway/desk/desk.h"

namespace loamway {

/// What `prepare` learnt on the way and the inputs do not tell.
struct Learnt {
    bool depart_assumed = false;
    bool interval_assumed = false;
    bool units_assumed = false;
    bool currency_open = false;     // rates were given without a currency
    bool belts_price_open = false;  // rates were given without the price of a set, or not at all
    std::string rates_from;         // file, "given in the move", or empty: none
    std::string ledger_says;        // what came out of the ledger; empty: nothing
};

/// The fields of the move as understood, each with a value in the plan's units and whether it was assumed.
[[nodiscard]] std::vector<MoveField> understood_fields(const MoveRequest& request, const PlanInputs& inputs,
                                                       const Learnt& learnt, const TimeZone& zone,
                                                       bool zone_assumed);

}  // namespace loamway

#endif
