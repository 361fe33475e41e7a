// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SEASON_JOBS_H
#define LOAMWAY_SEASON_JOBS_H

// Jobs of one machine, one after the other, as a contractor writes them down: which field, how much work,
// when. A document has the keys of a move (desk/desk.h) except from, to, when, front_point and return_trip,
// and on top:
//   title                  of the quote
//   start, finish          places where the machine stands first and goes to last (finish may be left out)
//   basis = "full"         or "marginal", see rates
//   margin_pct = 0         on top of the cost, for the price
//   work_hours = "06:00-20:00"   of the day, in the region's zone: work and moves begin and go on in them
//   field_load = 0.6       share of the engine's rated power used in the field
//   [[job]] name, field    a place; without a field the job is done where the machine stands
//           hours | hectares and ha_per_h
//           depart, state, field_load, field_l_per_h
//   [[what_if]] name       and any key of a move, over the document's; in `rates` single keys over its rates
// Strict; every fault is an input Error with file and line. Defaults are assumptions.

#include <optional>
#include <string>
#include <vector>

#include "loamway/desk/desk.h"
#include "loamway/profile/rates.h"

namespace loamway {

struct FieldJob {
    std::string name, field;  // field: empty: where the machine stands
    Duration work;
    std::optional<double> hectares;
    std::optional<std::string> depart, state;
    double load = 0.6;  // share of the rated power
    bool load_assumed = true;
    std::optional<Volume> fuel_per_h;
    ErrorPlace field_at, depart_at;  // where they are said, for messages
};

struct WhatIf {
    std::string name;
    MoveRequest over;            // wins over the document's
    std::optional<Value> rates;  // single keys over the document's rates
};

struct JobList {
    std::string title, start, finish;
    ErrorPlace start_at, finish_at;
    MoveRequest move;                                 // what all moves have in common, the basis too
    double margin = 0.0;                              // share of the cost
    int day_from_min = 6 * 60, day_to_min = 20 * 60;  // work and moves begin between them
    std::vector<FieldJob> jobs;
    std::vector<WhatIf> what_ifs;
};

[[nodiscard]] JobList read_jobs(const Value& document, const std::string& file);

/// The keys of `over` in place of those of `base`, table by table.
[[nodiscard]] Value laid_over(const Value& base, const Value& over);

}  // namespace loamway

#endif
