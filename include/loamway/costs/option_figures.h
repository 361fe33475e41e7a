// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_COSTS_OPTION_FIGURES_H
#define LOAMWAY_COSTS_OPTION_FIGURES_H

// What one way to do a move is priced by: driven and hauled legs with how far their wear and fuel may be off.
// The same figures give the cost as estimated, the cost of a trial with other inputs, and the cost of the
// same kind of move over another length. Sums are in the rates' currency. Values, safe to share between
// threads.

#include <cstddef>
#include <span>
#include <string_view>
#include <vector>

#include "loamway/costs/costs.h"
#include "loamway/costs/spread.h"

namespace loamway {

/// Belt wear of a driven leg as shares of a set, turns included.
struct WearBand {
    double paved = 0, soft = 0;  // as estimated: on hard ground, on gravel and earth; their sum is the leg's
    double assumed_soft = 0, assumed_paved = 0;  // the whole, with roads of assumed surface taken so
    double cooler = 0, hotter = 0;  // the whole, with the bars' heat one standard deviation lower, higher
};

struct DrivenFigures {
    DriveFigures drive;
    WearBand wear;
    Volume fuel_upper;  // beside drive.fuel: the upper line of the motion model
};

/// A hauled leg with what else has to get there.
struct HauledFigures {
    HaulFigures haul;
    Duration more_loading;  // longer to load, and as much to unload, for what goes on the same deck
    int more_trips = 0;     // low-bed and crew once more, at the same price
    Money own_trips;        // other ways of getting things there
    Duration waits;         // of the machine, until the low-bed can come: delay is paid for it
};
[[nodiscard]] CostParts hauled_cost(const HauledFigures& f, const Rates& r);

struct OptionFigures {
    std::vector<DrivenFigures> driven;
    std::vector<HauledFigures> hauled;
};

/// The parts added up, as estimated.
[[nodiscard]] CostParts option_parts(const OptionFigures& f, const Rates& r);

/// Inputs of a move that nobody knows exactly, in the order they are drawn in. The first ones multiply what
/// the rates and figures say; `assumed_surface` runs from -1 (every road of assumed surface soft) over 0 (as
/// estimated) to 1 (paved); `bar_heat` counts standard deviations of the heat scale; `fuel_use` runs from
/// the estimate (0) to the upper line (1), and as far half down.
enum class MoveInput {
    wage,
    fuel_price,
    belt_price,
    wear_paved,
    wear_soft,
    machine_hour,
    stop_time,
    driving_speed,
    truck_hour,
    truck_km,
    loading_time,
    permit,
    truck_speed,
    empty_runs,
    assumed_surface,
    bar_heat,
    fuel_use
};
constexpr std::size_t move_input_count = 17;
[[nodiscard]] std::string_view name_of(MoveInput i);  // "wear_paved"
[[nodiscard]] MoveInput move_input(std::string_view name);

/// Spreads of all inputs, beside MoveInput. Wear rates run from 1 - sd to 1 + 2.5 sd, where sd is their
/// standard deviation as a share: with the assumed 0.6 that is 0.4 to 2.5. Assumptions of this project.
[[nodiscard]] std::vector<Spread> move_spreads(double wear_sd_share);

/// The rates with one draw put in; `inputs` stand beside MoveInput.
[[nodiscard]] Rates drawn_rates(const Rates& r, std::span<const double> inputs);
/// What an option costs with one draw: `drawn` are drawn_rates of it.
[[nodiscard]] Money drawn_cost(const OptionFigures& f, const Rates& drawn, std::span<const double> inputs);

}  // namespace loamway

#endif
