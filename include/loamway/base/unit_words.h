// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_UNIT_WORDS_H
#define LOAMWAY_BASE_UNIT_WORDS_H

// Figures as sentences, tables and sheets say them: metric, or miles, feet and what follows from them. Words
// only: what is worked out and kept stays metric.

#include <string>
#include <string_view>

namespace loamway {

class UnitWords {
public:
    /// "imperial", or metric.
    explicit UnitWords(std::string_view units) : m_imperial(units == "imperial") {}

    [[nodiscard]] bool imperial() const { return m_imperial; }
    [[nodiscard]] std::string_view long_unit() const { return m_imperial ? "mi" : "km"; }
    [[nodiscard]] std::string_view speed_unit() const { return m_imperial ? "mph" : "km/h"; }
    [[nodiscard]] std::string_view volume_unit() const { return m_imperial ? "US gal" : "l"; }
    [[nodiscard]] double long_unit_m() const {
        return m_imperial ? 1609.344 : 1000.0;
    }  // metres in a mi or km
    [[nodiscard]] double long_units(double metres) const { return metres / long_unit_m(); }
    /// Of what is paid for a kilometre or a litre: what is paid for a mile, a gallon.
    [[nodiscard]] double per_long_unit(double per_km) const {
        return m_imperial ? per_km * 1.609344 : per_km;
    }
    [[nodiscard]] double per_volume_unit(double per_l) const {
        return m_imperial ? per_l * 3.785411784 : per_l;
    }

    [[nodiscard]] std::string number(double metres) const;        // "12", "4.5": km or mi, without the unit
    [[nodiscard]] std::string length(double metres) const;        // "12 km"
    [[nodiscard]] std::string exact_number(double metres) const;  // "12.4", whatever the length
    [[nodiscard]] std::string exact(double metres) const;         // "12.4 km"
    [[nodiscard]] std::string at(double metres) const;            // "km 12.4"
    [[nodiscard]] std::string short_length(double metres) const;  // "120 m", "390 ft"
    [[nodiscard]] std::string size(double metres) const;          // "2.55 m", "8 ft 4.4 in"
    [[nodiscard]] std::string temperature(double c) const;        // "108 °C"
    [[nodiscard]] std::string warmer(double k) const;             // "3 °C": a difference
    [[nodiscard]] std::string speed(double kmh) const;  // "15": a cap is never rounded up; without the unit
    [[nodiscard]] std::string speed_cap(double kmh) const;  // "15 km/h"
    [[nodiscard]] std::string wear(double mm) const;        // "0.12 mm", "0.005 in"
    [[nodiscard]] std::string mass(double t) const;         // "18.4 t", "40565 lb"
    [[nodiscard]] std::string volume(double litres) const;  // "61", without the unit

private:
    bool m_imperial;
};

}  // namespace loamway

#endif
