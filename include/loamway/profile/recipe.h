// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PROFILE_RECIPE_H
#define LOAMWAY_PROFILE_RECIPE_H

// A region's defaults: what holds in a part of the world and is not in its map. Keys of the document
// (regions/*.toml), each with the default below:
//   name, time_zone, attribution, odds_factor, drives_on_right, units = "metric|imperial",
//   permit_from_width_m, escort_from_width_m, daylight_from_width_m, national_height_m, limits, currency,
//   wide_move_hours = [6, 20] (or over midnight, [22, 5]), school_hours = [7.5, 16]  (local; none: no rule)
//   [odds_factors] track = 0.3  (by class of road, instead of odds_factor)

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "loamway/base/units.h"
#include "loamway/text/value.h"

namespace loamway {

/// A part of the day, local time.
struct DayHours {
    double from = 0, to = 24;  // hours since midnight; `to` before `from`: of the next day
    friend bool operator==(const DayHours&, const DayHours&) = default;
};

struct Recipe {
    std::string name;          // empty: no recipe given, every default assumed
    std::string time_zone;     // empty: UTC, and said so
    std::string attribution;   // whose map data it is; empty: the OpenStreetMap contributors
    double odds_factor = 1.0;  // how likely untagged roads are hard: dense 1, mixed .85, sparse .55
    std::map<std::string, double, std::less<>> class_odds_factors;  // the same by class of road ("track")
    bool drives_on_right = true;
    std::string units = "metric";                         // or "imperial": default for outputs
    Length permit_from_width = Length::from_metres(3.0);  // assumption; a recipe names its source
    Length escort_from_width = Length::from_metres(3.5);  // assumption
    std::optional<Length> daylight_from_width;            // none: no rule known
    Length national_height = Length::from_metres(4.0);
    std::string
        limits;  // name of a table of published limits beside the recipe: limits/NAME.toml; empty: none
    std::string currency;                     // label for rates that name none; empty: theirs
    std::optional<DayHours> wide_move_hours;  // for moves as wide as the permit width; none: no rule known
    std::optional<DayHours> school_hours;     // when no machine stands beside a school; none: not known

    /// For a road of a class, a link like the road it links; without a class the factor for all.
    [[nodiscard]] double odds_factor_of(std::optional<std::string_view> highway) const;
};

/// "07:30" for 7.5.
[[nodiscard]] std::string hour_words(double hour);

/// Strict; unknown keys and words are input Errors with file and line.
[[nodiscard]] Recipe read_recipe(const Value& document, const std::string& file);

}  // namespace loamway

#endif
