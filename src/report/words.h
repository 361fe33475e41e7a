// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_WORDS_H
#define LOAMWAY_SRC_REPORT_WORDS_H

// Figures and names of a plan as people read them.

#include <optional>
#include <string>
#include <string_view>

#include "loamway/base/unit_words.h"
#include "loamway/plan/plan.h"
#include "loamway/plan/plan_words.h"

namespace loamway {

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
/// The place of a stop in one phrase: what it is, side, how to find it.
[[nodiscard]] std::string where_words(const PlanStop& s);
/// Stops that are made on the way: all but the one before leaving.
[[nodiscard]] std::size_t stops_on_the_way(const Option& o);
[[nodiscard]] std::string map_words(const Plan& plan);

}  // namespace loamway

#endif
