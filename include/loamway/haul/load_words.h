// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_HAUL_LOAD_WORDS_H
#define LOAMWAY_HAUL_LOAD_WORDS_H

// Figures as sentences and drawings of a loading say them: metric, or feet, inches, pounds and what follows
// from them. Words only: what is compared and kept stays SI, so a difference may be smaller than its words
// show.

#include <string>
#include <string_view>

#include "loamway/base/mechanics.h"
#include "loamway/base/units.h"

namespace loamway {

class LoadWords {
public:
    /// `units` as in Recipe::units.
    explicit LoadWords(std::string_view units) : m_imperial(units == "imperial") {}

    [[nodiscard]] std::string size(Length l) const;               // "2.55 m", "8 ft 4.4 in"
    [[nodiscard]] std::string range(Length a, Length b) const;    // "1.20 to 1.50 m"
    [[nodiscard]] std::string small(Length l) const;              // "150 mm", "5.9 in"
    [[nodiscard]] std::string small_number(Length l) const;       // the same without its unit
    [[nodiscard]] std::string bend(Length l) const;               // "1.2 mm", "0.05 in"
    [[nodiscard]] std::string mass(Mass m) const;                 // "16.0 t", "35274 lb"
    [[nodiscard]] std::string mass_of(Mass m, Mass limit) const;  // "3.1 of 7.5 t"
    [[nodiscard]] std::string chain(Mass m) const;                // "4000 kg", "8818 lb"
    [[nodiscard]] std::string force(Force f) const;               // "93 kN", "20900 lbf"
    [[nodiscard]] std::string force_number(Force f) const;        // the same without its unit
    [[nodiscard]] std::string small_force(Force f) const;         // "9.3 kN", "2090 lbf"
    [[nodiscard]] std::string energy(Energy e) const;             // "1.2 kJ", "890 ft lbf"
    /// "4.1 MPa", "590 psi"; with `decimals` behind the point in MPa.
    [[nodiscard]] std::string stress(Stress s, int decimals) const;
    [[nodiscard]] std::string stress_number(Stress s, int decimals) const;

private:
    bool m_imperial;
};

}  // namespace loamway

#endif
