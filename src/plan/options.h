// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PLAN_OPTIONS_H
#define LOAMWAY_PLAN_OPTIONS_H

// One way to do the move, worked out in full: driven along a route, or hauled by a low-bed.

#include <optional>
#include <string>

#include "loamway/costs/option_figures.h"
#include "loamway/plan/plan.h"
#include "move_ends.h"
#include "worked_way.h"

namespace loamway {

/// A driven option in words and figures, for people and files.
[[nodiscard]] Option drive_option(const Setting& setting, const VehicleRoads& roads, const StopPlaces& places,
                                  const PlanHeat& heat, const WorkedWay& way);

/// What a driven way is priced by. Its wear has no band yet: the whole is the estimate in every light.
[[nodiscard]] DrivenFigures driven_figures(const Setting& setting, const Driven& d);
/// Figures of what is driven along way.driven.path: lengths, wear, heat, times, costs, fuel, powder.
void set_driven_figures(Option& o, const Setting& setting, const PlanHeat& heat, const WorkedWay& way);
/// One driven stretch of an option with its stops.
void add_driven_leg(Option& o, const Setting& setting, const Path& path, const Driven& driven,
                    std::string from, std::string to);
/// What people must know of how it is driven and of the machine on the road.
void add_driven_flags(Option& o, const Setting& setting, const PlanHeat& heat, const WorkedWay& way);
/// Of bars measured at or below what they are replaced at; else empty.
[[nodiscard]] std::string worn_bars_text(const PlanInputs& in);
/// And of its stops.
void add_stop_flags(Option& o, const WorkedWay& way);
void note_end_of_weather(Option& o, const Setting& setting);

class Hauling;
/// The low-bed's own way between the two ends, empty running included. `machine`: where that joins the roads.
[[nodiscard]] Option haul_option(const Setting& setting, Hauling& hauling, const MoveEnds& machine);
/// Where it meets the machine away from where that stands, people must know.
void flag_loading_off_road(const Setting& setting, const HaulEnds& ends, bool at_from, bool at_to, Option& o);
/// How long after `at` the low-bed can be there at all.
[[nodiscard]] Duration wait_for_low_bed(const PlanInputs& in, Instant at);
/// Says so: "loading begins", "the machine leaves".
[[nodiscard]] Flag haul_from_flag(const Setting& setting, Duration waits, std::string_view what_waits);
/// A path of the loaded low-bed, whatever its at_dm begins with.
[[nodiscard]] Leg hauled_leg(const Setting& setting, const Path& path, std::string from, std::string to);

/// An option that cannot be done and why.
[[nodiscard]] Option impossible_option(std::string id, Mode mode, std::string why_not);

/// The cost lines as the plan shows them.
[[nodiscard]] OptionCost option_cost(const CostParts& parts, const Rates& rates);

}  // namespace loamway

#endif
