// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PROFILE_RATES_H
#define LOAMWAY_PROFILE_RATES_H

// Everything that costs money or time and is not the road's: one TOML document, every key with a stated
// default (all defaults are assumptions of this project). examples/rates.toml lists every key with its
// default and says what it means; a test keeps it equal to this struct.

#include <string>
#include <string_view>

#include "loamway/base/units.h"
#include "loamway/text/value.h"

namespace loamway {

enum class CostBasis { marginal, full };
[[nodiscard]] std::string_view name_of(CostBasis b);

struct Rates {
    std::string currency = "CU";
    CostBasis basis = CostBasis::marginal;  // "drive or truck today?" is decided at the margin
    // labour
    Money wage_per_h = Money::from_units(28);
    double labour_factor = 1.0;  // paid hours for an hour of driving; not for the crew at the low-bed
    // fuel
    Money fuel_per_l = Money::from_units(1.10);
    double speed_reduction_pct = 20;  // N: engine-speed reduction
    Volume idle_per_h = Volume::from_litres(6);
    double oil_share = 0.10;  // of fuel cost
    // belts
    Money belt_set = Money::from_units(16000);
    Money belt_fitting = Money::from_units(600);
    Money belt_residual = Money::from_units(0);
    Money lubricant_per_stop = Money::from_units(3);
    // machine by the hour; ownership for each basis
    Money ownership_full_per_h = Money::from_units(83.79);
    Money ownership_marginal_per_h = Money::from_units(1.90);
    Money repair_per_h = Money::from_units(8.40);
    Money drive_permit = Money::from_units(0);  // a driven machine as wide as the recipe's permit width
    // escort car
    int escorts = 0;  // number of cars; a recipe's width rule may raise it
    Money escort_per_h = Money::from_units(30);
    Money escort_per_km = Money::from_units(0.45);
    // fetching the driver or his van afterwards
    Money shuttle_per_h = Money::from_units(28);
    Money shuttle_per_km = Money::from_units(0.45);
    Speed car_speed = Speed::from_kmh(60);
    bool shuttle = true;
    // times
    Duration stop_two_belts = Duration::from_minutes(12);
    Duration stop_four_belts = Duration::from_minutes(20);
    Duration turn_out = Duration::from_minutes(3);  // backing out of a side way
    Duration prepare = Duration::from_minutes(15);
    Duration wash = Duration::from_minutes(0);
    Duration slow_start = Duration::from_minutes(15);  // the slow quarter of an hour after a dry start
    Speed slow_start_speed = Speed::from_kmh(15);
    Duration expected_delay = Duration::from_minutes(0);
    Money delay_per_h = Money::from_units(0);  // what an hour without the machine costs in the field
    // re-lubrication
    Length relube_interval = Length::from_km(15);
    // low-bed
    Money truck_per_h = Money::from_units(95);
    Money truck_per_km = Money::from_units(1.60);
    Money truck_minimum = Money::from_units(400);
    Duration billing_step = Duration::from_minutes(15);
    Duration load_time = Duration::from_minutes(45);
    Duration unload_time = Duration::from_minutes(30);
    Duration wait_time = Duration::from_minutes(15);
    Duration make_narrow_time = Duration::from_minutes(0);
    double machine_running_load_h = 0.4;
    double loading_load_fraction = 0.15;    // share of rated power while it runs on and off the deck
    Money permit = Money::from_units(120);  // where the loaded low-bed is over a limit, or none is known
    Money toll = Money::from_units(0);
    int haul_escorts = 0;
    bool all_assumed = true;  // no rates document was given
    [[nodiscard]] Money ownership_per_h() const {
        return basis == CostBasis::full ? ownership_full_per_h : ownership_marginal_per_h;
    }
    [[nodiscard]] Duration stop_time(int belts) const { return belts > 2 ? stop_four_belts : stop_two_belts; }
    friend bool operator==(const Rates&, const Rates&) = default;
};
/// Strict; unknown keys and values out of range are input Errors with file and line.
[[nodiscard]] Rates read_rates(const Value& document, const std::string& file);

}  // namespace loamway

#endif
