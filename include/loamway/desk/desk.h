// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_DESK_DESK_H
#define LOAMWAY_DESK_DESK_H

// Puts a move together: finds the region, profiles, places and rates that a request names, fills in stated
// defaults and marks them. The only way to a plan for every front end.

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/exchange/places.h"
#include "loamway/plan/inputs.h"
#include "loamway/text/value.h"

namespace loamway {

/// A move as asked: from a TOML document, from flags, or both (flags win). Unset = not said.
struct MoveRequest {
    std::optional<std::string> from, to, machine, state, belts, low_bed, rates, depart, units, places,
        corrections;
    std::optional<std::string> region, when, haul_from, ledger;
    /// How a move document wrote the machine: a ledger knows machines by name. Without it, as `machine`.
    std::optional<std::string> machine_word;
    std::optional<double> air_c, air_min_c, air_max_c, sun, cloud, since_lube_km, belt_hours, bar_mm,
        detour_cap, snap_limit_km;
    std::optional<std::string> ground, air_csv;
    std::optional<int> trials;
    std::optional<std::int64_t> seed;
    std::optional<std::string> basis;
    std::optional<bool> return_trip;
    std::optional<bool> preconditioned, washed;  // washed: beside belts by their name
    std::optional<int> front_point;
    std::optional<std::vector<std::string>> modes, loading_places;
    std::vector<AlsoMoves> also_moves;
    // Inline tables of a move document take the place of a file name.
    std::optional<Value> machine_table, low_bed_table, rates_table;
    std::vector<NotedReading> readings;  // on top of those of the ledger's set, else of the machine's profile
    /// Where a key of a move document stands, for messages; keys said by flags are not in it.
    std::map<std::string, ErrorPlace> said_at;
};

/// Reads a move document: from, to, machine, state, belts, trailer, rates, region, places, corrections,
/// depart, ledger, basis, trials, seed, return_trip, detour_cap, snap_km, modes, front_point, when, units,
/// haul_from, loading_places, [conditions] air_c or air_min_c and air_max_c or air_csv (a file, see
/// parse_air_csv), sun or cloud, ground, [belts_state] hours, since_lube_km, washed, preconditioned, bar_mm,
/// [[reading]] (heat_reading.h),
/// [[what_else_moves]] name, how = "same-deck|own-trip|stays", mass_kg, length_m, load_min, cost. Strict.
/// Relative file names in it start at the document's own folder. With `ledger` (file or address) machine may
/// be one of its machines and belts one of its sets; what the document says itself wins over the ledger.
[[nodiscard]] MoveRequest read_move(const Value& document, const std::string& file);
/// `over` wins over `base`, field by field.
[[nodiscard]] MoveRequest merge(MoveRequest base, const MoveRequest& over);

struct Prepared {
    std::shared_ptr<const Region> region;
    std::unique_ptr<CorrectedRegion> corrections;  // null: none are kept for this region
    PlanInputs inputs;                             // points into both
};
/// Reads every file named, resolves places, fills defaults. All errors are placed. `at` is the time a move
/// without departure is taken to start.
[[nodiscard]] Prepared prepare(const MoveRequest& request, Instant at);

/// What is open already where many moves are planned; the request's region then only says beside which file
/// the corrections are.
struct KeptOpen {
    std::shared_ptr<const Region> region;                   // null: opened for this move
    std::shared_ptr<const std::vector<PlaceEntry>> places;  // null: the request's file, if any
    std::shared_ptr<KeptRoads> roads = {};                  // of that region; null: read for this move
};
[[nodiscard]] Prepared prepare(const MoveRequest& request, const KeptOpen& kept, Instant at);

}  // namespace loamway

#endif
