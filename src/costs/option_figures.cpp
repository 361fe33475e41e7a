// SPDX-License-Identifier: Apache-2.0
#include "loamway/costs/option_figures.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "loamway/base/error.h"

namespace loamway {
namespace {

constexpr std::array<std::string_view, move_input_count> names{
    "wage",        "fuel_price",    "belt_price",      "wear_paved", "wear_soft",    "machine_hour",
    "stop_time",   "driving_speed", "truck_hour",      "truck_km",   "loading_time", "permit",
    "truck_speed", "empty_runs",    "assumed_surface", "bar_heat",   "fuel_use"};

double of(std::span<const double> inputs, MoveInput i) {
    return inputs[static_cast<std::size_t>(i)];
}

/// The name that assumed_spreads() has for an input; none for those that have a spread of their own.
std::string_view assumed_name(MoveInput i) {
    switch (i) {
        case MoveInput::wage:
            return "wage";
        case MoveInput::fuel_price:
            return "fuel_price";
        case MoveInput::belt_price:
            return "belt_price";
        case MoveInput::machine_hour:
            return "own_h";
        case MoveInput::stop_time:
            return "t_stop";
        case MoveInput::driving_speed:
            return "v";
        case MoveInput::truck_hour:
            return "tr_h";
        case MoveInput::truck_km:
            return "tr_km";
        case MoveInput::loading_time:
            return "t_load";
        case MoveInput::permit:
            return "permit";
        case MoveInput::truck_speed:
            return "v_load";
        case MoveInput::empty_runs:
            return "dead";
        case MoveInput::wear_paved:
        case MoveInput::wear_soft:
        case MoveInput::assumed_surface:
        case MoveInput::bar_heat:
        case MoveInput::fuel_use:
            return {};
    }
    throw Error(ErrorKind::internal, "an input without a spread");
}

Spread own_spread(MoveInput i, double wear_sd_share) {
    const std::string name(name_of(i));
    switch (i) {
        case MoveInput::wear_paved:
        case MoveInput::wear_soft:
            return {name, std::max(0.05, 1 - wear_sd_share), 1, 1 + 2.5 * wear_sd_share};
        case MoveInput::assumed_surface:
            return {name, -1, 0, 1};
        case MoveInput::bar_heat:
            // Triangular with a standard deviation of one.
            return {name, -std::sqrt(6.0), 0, std::sqrt(6.0)};
        case MoveInput::fuel_use:
            return {name, -0.5, 0, 1};
        default:
            throw Error(ErrorKind::internal, "an input with an assumed spread");
    }
}

double ratio(double part, double whole) {
    return whole > 0 ? part / whole : 1.0;
}

/// Wear of a leg with one draw. What surfaces and heat change is known for the whole leg only, so it
/// multiplies what the rates make of it.
double drawn_wear(const WearBand& w, std::span<const double> inputs) {
    const double likely = w.paved + w.soft;
    if (!(likely > 0))
        return 0;
    const double by_rates =
        w.paved * of(inputs, MoveInput::wear_paved) + w.soft * of(inputs, MoveInput::wear_soft);
    const double surface = of(inputs, MoveInput::assumed_surface);
    const double end = surface < 0 ? w.assumed_soft : w.assumed_paved;
    const double by_surface = 1 + std::abs(surface) * (ratio(end, likely) - 1);
    const double heat = of(inputs, MoveInput::bar_heat);
    const double one_sd = ratio(heat < 0 ? w.cooler : w.hotter, likely);
    const double by_heat = one_sd == 1.0 ? 1.0 : std::pow(one_sd, std::abs(heat));
    return by_rates * by_surface * by_heat;
}

Volume drawn_fuel(const DrivenFigures& f, double use) {
    return f.drive.fuel + (f.fuel_upper - f.drive.fuel) * use;
}

DriveFigures drawn_drive(const DrivenFigures& f, std::span<const double> inputs) {
    DriveFigures d = f.drive;
    d.driving = d.driving * (1 / of(inputs, MoveInput::driving_speed));
    d.stopped = d.stopped * of(inputs, MoveInput::stop_time);
    d.wear_share = drawn_wear(f.wear, inputs);
    d.fuel = drawn_fuel(f, of(inputs, MoveInput::fuel_use));
    return d;
}

HauledFigures drawn_haul(HauledFigures f, std::span<const double> inputs) {
    f.more_loading = f.more_loading * of(inputs, MoveInput::loading_time);
    HaulFigures& h = f.haul;
    const double empty = of(inputs, MoveInput::empty_runs);
    h.to_pickup = h.to_pickup * empty;
    h.to_pickup_time = h.to_pickup_time * empty;
    h.back = h.back * empty;
    h.back_time = h.back_time * empty;
    h.loaded_time = h.loaded_time * (1 / of(inputs, MoveInput::truck_speed));
    return f;
}

}  // namespace

std::string_view name_of(MoveInput i) {
    return names.at(static_cast<std::size_t>(i));
}

MoveInput move_input(std::string_view name) {
    const auto found = std::find(names.begin(), names.end(), name);
    if (found == names.end())
        throw Error(ErrorKind::internal, "no input of a move is called so");
    return static_cast<MoveInput>(found - names.begin());
}

std::vector<Spread> move_spreads(double wear_sd_share) {
    const std::vector<Spread> assumed = assumed_spreads();
    std::vector<Spread> out;
    for (std::size_t n = 0; n < move_input_count; ++n) {
        const MoveInput i = static_cast<MoveInput>(n);
        const std::string_view known = assumed_name(i);
        Spread s = known.empty() ? own_spread(i, wear_sd_share) : assumed[spread_index(assumed, known)];
        s.name = name_of(i);
        out.push_back(std::move(s));
    }
    return out;
}

CostParts hauled_cost(const HauledFigures& f, const Rates& r) {
    CostParts c;
    if (f.more_loading.seconds() > 0) {
        Rates longer = r;
        longer.load_time += f.more_loading;
        longer.unload_time += f.more_loading;
        c = haul_cost(f.haul, longer);
    } else {
        c = haul_cost(f.haul, r);
    }
    c.labour = c.labour * (1 + f.more_trips);
    c.truck = c.truck * (1 + f.more_trips) + f.own_trips;
    c.delay += r.delay_per_h * f.waits.hours();
    return c;
}

CostParts option_parts(const OptionFigures& f, const Rates& r) {
    CostParts sum;
    for (const DrivenFigures& d : f.driven)
        sum += drive_cost(d.drive, r);
    for (const HauledFigures& h : f.hauled)
        sum += hauled_cost(h, r);
    return sum;
}

Rates drawn_rates(const Rates& r, std::span<const double> inputs) {
    const auto times = [inputs](auto& value, MoveInput i) { value = value * of(inputs, i); };
    Rates d = r;
    times(d.wage_per_h, MoveInput::wage);
    times(d.fuel_per_l, MoveInput::fuel_price);
    times(d.belt_set, MoveInput::belt_price);
    times(d.ownership_full_per_h, MoveInput::machine_hour);
    times(d.ownership_marginal_per_h, MoveInput::machine_hour);
    times(d.truck_per_h, MoveInput::truck_hour);
    times(d.truck_per_km, MoveInput::truck_km);
    times(d.load_time, MoveInput::loading_time);
    times(d.unload_time, MoveInput::loading_time);
    times(d.permit, MoveInput::permit);
    times(d.drive_permit, MoveInput::permit);
    return d;
}

Money drawn_cost(const OptionFigures& f, const Rates& drawn, std::span<const double> inputs) {
    Money sum;
    for (const DrivenFigures& d : f.driven)
        sum += drive_cost(drawn_drive(d, inputs), drawn).total();
    for (const HauledFigures& h : f.hauled)
        sum += hauled_cost(drawn_haul(h, inputs), drawn).total();
    return sum;
}

}  // namespace loamway
