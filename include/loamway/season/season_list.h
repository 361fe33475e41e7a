// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_SEASON_LIST_H
#define LOAMWAY_SEASON_SEASON_LIST_H

// A season as a contractor writes it down: machines, low-beds, jobs, the hours of the day. A document has the
// keys of a move (desk/desk.h) that hold for all moves, `depart` as the moment the season begins, and
//   title
//   work_hours = "06:00-20:00"   of the day, in the region's zone: work, moves and empty runs lie in them
//   return_to_base = true        machines go home after their last job
//   field_load = 0.6             share of the engine's rated power used in the field
//   [[machine]] name, base, stands (base), free (depart), return_to_base, ha_per_h; and of a move machine,
//               state, belts, belts_state, reading
//   [[low_bed]] name, base, free (depart); and of a move trailer
//   [[job]]     name, field, hours | hectares (with ha_per_h here or at the machine), earliest, latest,
//               machines = ["red"], state, field_load, field_l_per_h
//   [[fix]]     job with machine, position = "first|last", mode = "drive|haul|mixed", low_bed: any of them
//   [[exclude]] job, machine, low_bed, mode: what is named together does not happen together
// Days ("2026-07-14") and times; `latest` as a day lets the work end in the evening of it. Strict; every
// fault is an input Error with file and line. Defaults are assumptions.

#include <optional>
#include <string>
#include <vector>

#include "loamway/plan/plan.h"
#include "loamway/season/jobs.h"

namespace loamway {

/// A day or a time as said, its form checked; the zone comes with the region.
struct SaidTime {
    std::string text;
    ErrorPlace at;
};

struct ListedMachine {
    std::string name, base, stands;  // stands: where it is first; empty: at its base
    ErrorPlace base_at, stands_at;
    std::optional<SaidTime> free;
    bool returns = true;
    std::optional<double> ha_per_h;
    MoveRequest move;  // over the list's
};

struct ListedLowBed {
    std::string name, base;
    ErrorPlace base_at;
    std::optional<SaidTime> free;
    MoveRequest move;
};

struct ListedJob {
    FieldJob field;  // `work` and `depart` are not used: see below
    std::optional<double> hours, ha_per_h;
    std::optional<SaidTime> earliest, latest;
    std::vector<std::size_t> machines;  // that can; empty: all
};

enum class Position { any, first, last };

/// What is named together: must happen (fix) or must not (exclude).
struct SeasonRule {
    std::optional<std::size_t> job, machine, low_bed;
    std::optional<Mode> mode;
    Position position = Position::any;
};

struct SeasonList {
    std::string title, file;
    MoveRequest move;
    int day_from_min = 6 * 60, day_to_min = 20 * 60;
    std::vector<ListedMachine> machines;
    std::vector<ListedLowBed> low_beds;
    std::vector<ListedJob> jobs;
    std::vector<SeasonRule> fixes, exclusions;
};

[[nodiscard]] SeasonList read_season(const Value& document, const std::string& file);

}  // namespace loamway

#endif
