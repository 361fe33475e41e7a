// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_LEDGER_EVENT_H
#define LOAMWAY_LEDGER_EVENT_H

// What happens to machines and belts, one event each. A ledger only grows: what was wrong is undone by a new
// event, never changed. An event's data is one JSON object with the keys of the struct that reads it, unit in
// every key; strict both when it is written and when it is read back.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/time.h"
#include "loamway/text/value.h"

namespace loamway {

/// The numbers are kept in ledgers: never change one, only add.
enum class EventKind : int {
    machine_added = 1,
    belts_added = 2,
    fitted = 3,
    removed = 4,
    swapped = 5,  // left and right changed over
    rotated = 6,  // turned to run the other way round
    moved = 7,
    field_work = 8,
    lubricated = 9,
    washed = 10,
    reading = 11,
    heights = 12,
    condition = 13,
    fault = 14,
    cost = 15,
    undone = 16
};
[[nodiscard]] std::string_view name_of(EventKind k);  // "machine_added" ...
[[nodiscard]] std::string event_words(EventKind k);   // "machine added" ..., for people

struct Event {
    std::int64_t id = 0;  // given by the ledger, ascending in the order of writing
    Instant at;           // when it happened
    Instant noted;        // when it was written
    EventKind kind = EventKind::moved;
    std::string machine, belts;  // names; empty where it concerns none
    std::string by;
    Value data;         // object
    std::string token;  // the same token is written once only; empty: no such care
    [[nodiscard]] Value to_value() const;
};

/// One event as a JSON object: id, at, noted, kind, machine, belts, by, token, data. Strict; names of at most
/// 200 bytes. The data is checked against its kind.
[[nodiscard]] Event event_from_value(const Value& value, const std::string& document);
/// Input Error unless names and data fit the kind.
void check_event(const Event& event, const std::string& document);

struct BeltsAdded {
    double hours = 0.0, new_bar_mm = 0.0, worn_mm = 0.0, price = 0.0;
    std::string currency, note;
    bool run_in = false;
};
struct BeltsRemoved {
    std::string cause;  // one of removal_causes()
    std::string note;
};
struct MoveDone {
    double hard_m = 0.0, gravel_m = 0.0, earth_m = 0.0;
    /// Kilometres weighted by speed, load and temperature (wear factor F), for the calibration.
    double hard_weighted_km = 0.0, gravel_weighted_km = 0.0, earth_weighted_km = 0.0;
    double sharp_turns = 0.0, hours = 0.0;
    double since_relube_m = 0.0;  // at its end
    bool lubricated = false;      // on the way or before it
    std::optional<double> bar_peak_c, bar_high_c, guide_lug_peak_c, limit_c, wear_mm, fuel_l, cost;
    std::string from, to;
    /// What the plan said, where the figures above are those driven.
    std::optional<double> planned_m, planned_hours;
    std::optional<Instant> departed;
    [[nodiscard]] double length_m() const { return hard_m + gravel_m + earth_m; }
};
struct FieldWork {
    double hours = 0.0, hectares = 0.0;
};
struct HeightSurvey {
    std::vector<double> mm;  // bar by bar
    [[nodiscard]] double mean_mm() const;
};
struct BeltCondition {
    int guide_lugs_lost = 0, edge_cuts = 0;
    bool chunking = false, cord_visible = false;
    std::string note;
};
struct ReadingNote {  // an infrared reading with what led up to it
    double reading_c = 0.0, after_stop_min = 0.0, length_km = 0.0, speed_kmh = 0.0, air_c = 20.0, sun = 0.5;
    std::string surface = "asphalt", place = "flank";
    std::string state;             // working state of the machine; empty: its first
    std::optional<double> bar_mm;  // height of the bars, measured with the reading
    double sd_c = 2.0;             // how far instrument and spot may be off
};
struct CostNote {
    double amount = 0.0;
    std::string currency, what;
};

[[nodiscard]] const std::vector<std::string_view>& removal_causes();

// Each reads the data of its kind; input Error for a missing, unknown or wrong key.
[[nodiscard]] BeltsAdded read_belts_added(const Value& data, const std::string& document);
[[nodiscard]] BeltsRemoved read_belts_removed(const Value& data, const std::string& document);
[[nodiscard]] MoveDone read_move_done(const Value& data, const std::string& document);
[[nodiscard]] FieldWork read_field_work(const Value& data, const std::string& document);
[[nodiscard]] HeightSurvey read_height_survey(const Value& data, const std::string& document);
[[nodiscard]] BeltCondition read_belt_condition(const Value& data, const std::string& document);
[[nodiscard]] ReadingNote read_reading_note(const Value& data, const std::string& document);
[[nodiscard]] CostNote read_cost_note(const Value& data, const std::string& document);
[[nodiscard]] std::int64_t read_undone_id(const Value& data, const std::string& document);

[[nodiscard]] Value to_value(const MoveDone& move);

}  // namespace loamway

#endif
