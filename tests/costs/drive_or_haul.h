// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_COSTS_DRIVE_OR_HAUL_H
#define LOAMWAY_TESTS_COSTS_DRIVE_OR_HAUL_H

// The move that the break-even and uncertainty checks were made with: a length, 60 % of it hard, 30 % gravel,
// 10 % earth, and 20 km empty for the low-bed each way, with inputs as multipliers.

#include <array>
#include <span>

#include "checks.h"
#include "loamway/costs/spread.h"

namespace loamway::test {

struct MoveOfLength {
    CheckDefaults defaults = check_defaults();
    std::array<double, 3> shares{0.6, 0.3, 0.1};
    double dead_km = 20;

    [[nodiscard]] Money drive(Length length) const {
        const double km = length.km();
        return drive_cost(drive_of(defaults, shares[0] * km, shares[1] * km, shares[2] * km), defaults.rates)
            .total();
    }
    [[nodiscard]] Money haul(Length length) const {
        return haul_cost(haul_of(defaults, dead_km, length.km(), dead_km), defaults.rates).total();
    }
};

/// The move with each input times the multiplier that stands beside its name in `spreads`.
[[nodiscard]] inline MoveOfLength multiplied(std::span<const Spread> spreads, std::span<const double> x) {
    static const CheckDefaults defaults = check_defaults();
    MoveOfLength m{defaults};
    CheckDefaults& d = m.defaults;
    Rates& r = d.rates;
    const auto times = [&](std::string_view name) { return x[spread_index(spreads, name)]; };
    r.wage_per_h = r.wage_per_h * times("wage");
    r.fuel_per_l = r.fuel_per_l * times("fuel_price");
    r.belt_set = r.belt_set * times("belt_price");
    d.wear_hard *= times("w_hard");
    d.wear_gravel *= times("w_gravel");
    r.ownership_full_per_h = r.ownership_marginal_per_h = r.ownership_full_per_h * times("own_h");
    r.stop_two_belts = r.stop_two_belts * times("t_stop");
    for (double* v : {&d.hard_kmh, &d.gravel_kmh, &d.earth_kmh})
        *v *= times("v");
    r.truck_per_h = r.truck_per_h * times("tr_h");
    r.truck_per_km = r.truck_per_km * times("tr_km");
    r.load_time = r.load_time * times("t_load");
    r.permit = r.permit * times("permit");
    d.loaded_kmh *= times("v_load");
    m.dead_km *= times("dead");
    return m;
}

}  // namespace loamway::test

#endif
