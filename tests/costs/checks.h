// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_COSTS_CHECKS_H
#define LOAMWAY_TESTS_COSTS_CHECKS_H

// The check values in tests/costs/data/costs.json (its first line names their source) and the rates they
// were made with.

#include <stdexcept>
#include <string>
#include <string_view>

#include "loamway/costs/costs.h"
#include "loamway/profile/rates.h"
#include "loamway/text/value.h"
#include "support/test_files.h"

namespace loamway::test {

/// What stands at a dotted path, for example "economics.n_stops".
[[nodiscard]] inline const Value& check(std::string_view path) {
    static const Value document = [] {
        const std::string file = source_path("tests/costs/data/costs.json");
        return parse_json(slurp(file), file);
    }();
    const Value* at = &document;
    while (!path.empty()) {
        const std::size_t dot = path.find('.');
        at = at->find(path.substr(0, dot));
        if (at == nullptr)
            throw std::runtime_error("no check value " + std::string(path));
        path.remove_prefix(dot == std::string_view::npos ? path.size() : dot + 1);
    }
    return *at;
}

[[nodiscard]] inline double number(const Value& object, std::string_view key) {
    const Value* v = object.find(key);
    if (v == nullptr)
        throw std::runtime_error("no check value " + std::string(key));
    return v->number();
}

/// What the checks call defaults; differs from Rates{} where the program's defaults moved on.
struct CheckDefaults {
    Rates rates;
    Power engine;
    double load_fraction = 0;                               // of the rated power while driving
    double wear_hard = 0, wear_gravel = 0, wear_earth = 0;  // share of a set per km
    double hard_kmh = 0, gravel_kmh = 0, earth_kmh = 0;
    double empty_kmh = 0, loaded_kmh = 0;
};

inline void set_haul_rates(Rates& r, const Value& d) {
    r.truck_per_h = Money::from_units(number(d, "tr_h"));
    r.truck_per_km = Money::from_units(number(d, "tr_km"));
    r.truck_minimum = Money::from_units(number(d, "tr_min"));
    r.billing_step = Duration::from_hours(number(d, "bill_step"));
    r.load_time = Duration::from_hours(number(d, "t_load"));
    r.unload_time = Duration::from_hours(number(d, "t_unload"));
    r.wait_time = Duration::from_hours(number(d, "t_wait"));
    r.make_narrow_time = Duration::from_hours(number(d, "t_strip"));
    r.machine_running_load_h = number(d, "mach_load_h");
    r.permit = Money::from_units(number(d, "permit"));
    r.toll = Money::from_units(number(d, "toll"));
    r.haul_escorts = static_cast<int>(number(d, "hesc_n"));
}

inline void set_drive_rates(Rates& r, const Value& d) {
    r.wage_per_h = Money::from_units(number(d, "wage"));
    r.labour_factor = number(d, "k_lab");
    r.fuel_per_l = Money::from_units(number(d, "fuel_price"));
    r.speed_reduction_pct = number(d, "Nred");
    r.idle_per_h = Volume::from_litres(number(d, "fuel_idle"));
    r.oil_share = number(d, "k_oil");
    r.belt_set = Money::from_units(number(d, "belt_price"));
    r.belt_fitting = Money::from_units(number(d, "belt_fit"));
    r.belt_residual = Money::from_units(number(d, "belt_residual"));
    r.lubricant_per_stop = Money::from_units(number(d, "lub_per_stop"));
    r.ownership_full_per_h = r.ownership_marginal_per_h = Money::from_units(number(d, "own_h"));
    r.repair_per_h = Money::from_units(number(d, "rm_h"));
    r.escorts = static_cast<int>(number(d, "n_esc"));
    r.escort_per_h = Money::from_units(number(d, "esc_h"));
    r.escort_per_km = Money::from_units(number(d, "esc_km"));
    r.shuttle_per_h = Money::from_units(number(d, "shuttle_h"));
    r.shuttle_per_km = Money::from_units(number(d, "shuttle_km"));
    r.car_speed = Speed::from_kmh(number(d, "v_car"));
    r.stop_two_belts = Duration::from_hours(number(d, "t_stop"));
    r.prepare = Duration::from_hours(number(d, "t_prep"));
    r.wash = Duration::from_hours(number(d, "t_wash"));
    r.expected_delay = Duration::from_hours(number(d, "t_delay"));
    r.delay_per_h = Money::from_units(number(d, "delay_h"));
    r.relube_interval = Length::from_km(number(d, "s0"));
}

[[nodiscard]] inline CheckDefaults check_defaults() {
    const Value& d = check("economics.defaults_all_assumptions");
    CheckDefaults c;
    set_drive_rates(c.rates, d);
    set_haul_rates(c.rates, d);
    c.engine = Power::from_kw(number(d, "P_rated"));
    c.load_fraction = number(d, "X_move");
    c.wear_hard = number(d, "w_hard");
    c.wear_gravel = number(d, "w_gravel");
    c.wear_earth = number(d, "w_earth");
    const Value::Array& v = *d.find("v")->as_array();
    c.hard_kmh = v[0].number();
    c.gravel_kmh = v[1].number();
    c.earth_kmh = v[2].number();
    c.empty_kmh = number(d, "v_empty");
    c.loaded_kmh = number(d, "v_load");
    return c;
}

/// A drive of so many kilometres on each surface, with the stops its length asks for.
[[nodiscard]] inline DriveFigures drive_of(const CheckDefaults& c, double hard_km, double gravel_km,
                                           double earth_km) {
    DriveFigures f;
    f.length = Length::from_km(hard_km + gravel_km + earth_km);
    f.driving =
        Duration::from_hours(hard_km / c.hard_kmh + gravel_km / c.gravel_kmh + earth_km / c.earth_kmh);
    const int stops = stops_needed(f.length, c.rates.relube_interval);
    f.stopped = c.rates.stop_two_belts * stops;
    f.lubrications = stops + 1;
    f.wear_share = hard_km * c.wear_hard + gravel_km * c.wear_gravel + earth_km * c.wear_earth;
    f.fuel = fuel_per_hour(c.engine, c.load_fraction, c.rates.speed_reduction_pct) * f.driving.hours();
    return f;
}

[[nodiscard]] inline HaulFigures haul_of(const CheckDefaults& c, double to_pickup_km, double loaded_km,
                                         double back_km) {
    HaulFigures f;
    f.to_pickup = Length::from_km(to_pickup_km);
    f.loaded = Length::from_km(loaded_km);
    f.back = Length::from_km(back_km);
    f.to_pickup_time = f.to_pickup / Speed::from_kmh(c.empty_kmh);
    f.loaded_time = f.loaded / Speed::from_kmh(c.loaded_kmh);
    f.back_time = f.back / Speed::from_kmh(c.empty_kmh);
    f.engine = c.engine;
    return f;
}

}  // namespace loamway::test

#endif
