// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_WORDS_H
#define LOAMWAY_SRC_REPORT_WORDS_H

// Figures and names of a plan as people read them.

#include <optional>
#include <string>
#include <string_view>

#include "loamway/plan/plan.h"

namespace loamway {

/// Figures in the units of a plan.
class UnitWords {
public:
    explicit UnitWords(const Plan& plan) : m_imperial(plan.units == "imperial") {}
    [[nodiscard]] std::string_view long_unit() const { return m_imperial ? "mi" : "km"; }
    [[nodiscard]] std::string_view speed_unit() const { return m_imperial ? "mph" : "km/h"; }
    [[nodiscard]] std::string_view volume_unit() const { return m_imperial ? "US gal" : "l"; }
    [[nodiscard]] std::string long_length(double m) const;   // "31.2": one decimal, without the unit
    [[nodiscard]] std::string with_unit(double m) const;     // "31.2 km"
    [[nodiscard]] std::string short_length(double m) const;  // "42 m", "138 ft"
    [[nodiscard]] std::string size(double m) const;          // "3.95 m", "13.0 ft"
    [[nodiscard]] std::string speed(double kmh) const;       // "30": without the unit, rounded down
    [[nodiscard]] std::string volume(double litres) const;
    [[nodiscard]] std::string small_length(double mm) const;  // "0.47 mm"
    [[nodiscard]] std::string temperature(double c) const;    // "83 °C"

private:
    bool m_imperial;
};

/// Clock times in the region's zone; another day than the departure's is said.
class ClockWords {
public:
    ClockWords(const Plan& plan, const std::optional<Instant>& depart);
    [[nodiscard]] std::string clock(const std::optional<Instant>& t) const;
    [[nodiscard]] std::string date() const;       // "2026-07-14", empty without a departure
    [[nodiscard]] std::string zone_name() const;  // with a word when it is assumed

private:
    TimeZone m_zone;
    std::optional<LocalTime> m_depart;
    bool m_assumed;
};

/// "312 m up, 290 m down; steepest 6 % down at km 12.3"; empty when heights are not known.
[[nodiscard]] std::string climb_words(const Option& o, const UnitWords& units);
/// "re-lube stop (dry powder on the inside of the belt)"
[[nodiscard]] std::string stop_words(const PlanStop& s);
/// "paved", "gravel", "earth"
[[nodiscard]] std::string_view surface_words(SurfaceClass c);
/// Nobody need be told: more than 95 in 100.
[[nodiscard]] inline bool is_certain(const Verdict& v) {
    return v.probability_cheapest.value_or(1) > 0.95;
}
/// "97 in 100 that this is the cheapest"; empty where nothing else can be done.
[[nodiscard]] std::string certainty_words(const Plan& plan);
/// "air temperature" for "air_c".
[[nodiscard]] std::string field_words(const std::string& key);
/// The place of a stop in one phrase: what it is, side, how to find it.
[[nodiscard]] std::string where_words(const PlanStop& s);
/// Stops that are made on the way: all but the one before leaving.
[[nodiscard]] std::size_t stops_on_the_way(const Option& o);
[[nodiscard]] std::string map_words(const Plan& plan);

}  // namespace loamway

#endif
