// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_BELT_RECORD_H
#define LOAMWAY_LEDGER_BELT_RECORD_H

// What a ledger's events add up to for one set of belts: hours, kilometres, state, height, money, what was
// learnt and how long the set may last. Sums are exact; heights, shares and forecasts are estimates with
// their band. Heat figures of moves are estimates and no evidence of a belt's condition. Pure functions.

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "loamway/belt/wear_calibration.h"
#include "loamway/ledger/event.h"
#include "loamway/profile/heat_reading.h"
#include "loamway/profile/machine.h"

namespace loamway {

struct HotMove {
    std::int64_t event = 0;
    Instant at;
    double bar_peak_c = 0.0;
    std::optional<double> bar_high_c, limit_c;
    std::string from, to;
};

struct Survey {
    std::int64_t event = 0;
    Instant at;
    double hours = 0.0;  // of the belts then
    double mean_mm = 0.0;
    int bars = 0;
};

/// An infrared reading, and what had been driven since the height the bars were last known at.
struct BeltReading {
    std::int64_t event = 0;
    Instant at;
    ReadingNote note;
    double last_known_mm = 0.0;
    WearVector driven_since{};
};

/// When belts last changed over from left to right (swapped) or were turned to run the other way (rotated).
struct BeltTurn {
    std::int64_t event = 0;
    Instant at;
    EventKind kind = EventKind::swapped;
};

/// An estimate with its 5 and 95 % edges.
struct Banded {
    double value = 0.0, low = 0.0, high = 0.0;
};

struct BeltRecord {
    std::string belts, machine;    // the machine that carries them; empty: none
    std::optional<Instant> since;  // first event
    BeltsAdded added;
    double hours = 0.0, field_hours = 0.0, road_hours = 0.0;  // hours: with those before the ledger
    double hard_km = 0.0, gravel_km = 0.0, earth_km = 0.0;
    int moves = 0;
    bool run_in = false;
    bool washed = false;
    bool lubricated_once = false;
    std::optional<BeltTurn> last_turn;    // empty: never noted
    std::optional<double> since_lube_km;  // empty: never, or washed off
    std::vector<HotMove> hottest;         // at most five, hottest first
    std::vector<Survey> surveys;
    std::vector<BeltReading> readings;
    Banded bar_mm;            // now
    Banded share_used;        // of what a set has between new and worn out
    Banded money_used;        // of the price
    double costs = 0.0;       // noted for these belts
    BeltCondition condition;  // lost guide lugs and cuts added up, the rest as last seen
    std::vector<std::string> faults;
    std::string removed_for;                     // cause, once removed for good
    std::vector<WearInterval> intervals;         // between surveys, for the calibration
    WearCalibration wear;                        // what they taught
    WearVector driven_since_survey{}, driven{};  // driven: all that was noted

    /// As plans take them.
    [[nodiscard]] BeltsNow now() const;
    /// Rates of wear as plans take them: how far they may be off is that of the roads and turns these belts
    /// have seen, of paved road where they have seen none.
    [[nodiscard]] KnownWear known_wear() const;
    /// For learn_heat(): bars are as high as they were measured with the reading, or as estimated for then.
    [[nodiscard]] std::vector<NotedReading> noted_readings() const;
};

/// `events` are those of these belts in the order in which they happened. Input Error when they were never
/// added.
[[nodiscard]] BeltRecord belt_record(std::span<const Event> events, const std::string& belts);

/// Hours of work until tread wear ends the set, at the mix of road and field it has seen so far. Empty while
/// too little is known (under 10 h of work). Belts also end by other causes.
[[nodiscard]] std::optional<Banded> hours_left(const BeltRecord& record);

/// How often belts of these events were removed for which cause.
[[nodiscard]] std::map<std::string, int> removal_counts(std::span<const Event> events);

}  // namespace loamway

#endif
