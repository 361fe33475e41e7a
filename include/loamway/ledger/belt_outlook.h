// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_BELT_OUTLOOK_H
#define LOAMWAY_LEDGER_BELT_OUTLOOK_H

// What may come of a set of belts, and what would have to be measured to know it better. Pure functions.

#include <optional>
#include <string>
#include <vector>

#include "loamway/ledger/belt_record.h"

namespace loamway {

/// For any cause but the season's end.
[[nodiscard]] bool taken_off_for_good(const BeltRecord& record);

/// When tread wear would end the set at the pace of work so far. An end too far off to be a date is empty.
struct WearEnd {
    double hours_per_week = 0.0;  // so far
    std::optional<Instant> at, earliest, latest;
};
/// Nothing while too little is known: under 10 h of work, or under four weeks in the ledger. Nothing for a
/// set that was taken off for good.
[[nodiscard]] std::optional<WearEnd> wear_end(const BeltRecord& record, Instant now);

/// Whose wear is to be known better: that of an hour of this set's work, or of its kilometres by road.
enum class WearAim { hour_of_work, road };

/// A measurement that could be made, and how far off that wear would then be.
struct MeasurementWorth {
    std::string what;
    double sd_now = 0.0, sd_then = 0.0;  // one standard deviation, as a share of the estimate
    [[nodiscard]] double gain() const { return sd_now - sd_then; }
};
/// Best first; those that teach next to nothing are left out. What the numbers will turn out to be does not
/// matter for that. Nothing for a set that was taken off for good.
[[nodiscard]] std::vector<MeasurementWorth> worth_measuring(const BeltRecord& record, WearAim aim);

}  // namespace loamway

#endif
