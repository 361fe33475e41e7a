// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BELT_BELT_CHECKS_H
#define LOAMWAY_TESTS_BELT_BELT_CHECKS_H

// The check values of tests/belt/data/belt.json and its three generic machines (invented, no make or model).
// Sections A and B are textbook problems; C to H were worked out with an independent program from the
// equations in the headers of the belt part, on the assumptions listed under "defaults".

#include <optional>
#include <string>

#include "loamway/belt/heat_model.h"
#include "loamway/profile/machine.h"
#include "loamway/text/value.h"
#include "support/test_files.h"

namespace loamway::test {

inline const Value& belt_checks() {
    static const Value document = [] {
        const std::string path = source_path("tests/belt/data/belt.json");
        return parse_json(slurp(path), path);
    }();
    return document;
}

inline const Value& section(const char* key) {
    return *belt_checks().find(key);
}
inline const Value::Array& rows(const char* key) {
    return *section(key).as_array();
}
inline double number(const Value& row, const char* key) {
    return row.find(key)->number();
}
inline const std::string& word(const Value& row, const char* key) {
    return *row.find(key)->as_string();
}
inline RoadSurface surface_of(const Value& row) {
    return *road_surface_named(word(row, "surface"));
}

/// The check values were made with 9.81 m/s2; a mass this much larger weighs the same under 9.80665, so that
/// they can be compared to the last printed digit.
constexpr double as_heavy = 9.81 / 9.80665;

inline Machine check_machine(const std::string& name, std::optional<double> mass_kg = std::nullopt) {
    const Value& row = *section("meta").find("machines")->find(name);
    Machine m;
    m.name = name;
    m.engine = Power::from_kw(number(row, "P"));
    m.top = m.hard = m.gravel = m.earth = Speed::from_kmh(number(row, "vmax"));
    BeltGeometry& b = m.belts;
    b.count = static_cast<int>(number(row, "n_belts"));
    b.belt_length = Length::from_metres(number(row, "L"));
    b.width = Length::from_metres(number(row, "w"));
    b.bar_height = Length::from_metres(number(row, "H"));
    b.bar_thickness = Length::from_metres(number(row, "b"));
    b.worn_height = Length::from_metres(number(row, "h_worn"));
    b.carcass = Length::from_metres(number(row, "t_car"));
    b.ground_run = Length::from_metres(number(row, "a"));
    b.fill = number(row, "fill");
    b.mid_rollers = static_cast<int>(number(row, "n_mid"));
    b.contact = Length::from_metres(number(row, "lc"));
    WorkingState s;
    s.name = "bare";
    s.mass = Mass::from_kg(mass_kg.value_or(number(row, "mass")) * as_heavy);
    s.axles = {s.mass};
    s.tracked = {true};
    s.height = Length::from_metres(1);
    s.width = Length::from_metres(number(row, "area_front") / MotionParameters{}.frontal_share);
    s.length = Length::from_metres(6);
    m.states = {s};
    return m;
}

inline HeatModel check_model(const std::string& name, const HeatParameters& p = {}) {
    const Machine m = check_machine(name);
    return HeatModel(m, m.states.front(), p);
}

inline Driving driving(RoadSurface surface, double kmh, double air_c, double sun = 0.5) {
    return {surface, Speed::from_kmh(kmh), Temperature::from_celsius(air_c), sun, 0.0};
}

inline Duration time_for(double km, double kmh) {
    return Length::from_km(km) / Speed::from_kmh(kmh);
}

}  // namespace loamway::test

#endif
