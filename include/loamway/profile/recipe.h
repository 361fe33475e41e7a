// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_PROFILE_RECIPE_H
#define LOAMWAY_PROFILE_RECIPE_H

// A region's defaults: what holds in a part of the world and is not in its map. Keys of the document
// (regions/*.toml), each with the default below:
//   name, time_zone, attribution, odds_factor, drives_on_right, units = "metric|imperial",
//   permit_from_width_m, escort_from_width_m, daylight_from_width_m, national_height_m, limits

#include <optional>
#include <string>

#include "loamway/base/units.h"
#include "loamway/text/value.h"

namespace loamway {

struct Recipe {
    std::string name;          // empty: no recipe given, every default assumed
    std::string time_zone;     // empty: UTC, and said so
    std::string attribution;   // whose map data it is; empty: the OpenStreetMap contributors
    double odds_factor = 1.0;  // how likely untagged roads are hard: dense 1, mixed .85, sparse .55
    bool drives_on_right = true;
    std::string units = "metric";                         // or "imperial": default for outputs
    Length permit_from_width = Length::from_metres(3.0);  // assumption; a recipe names its source
    Length escort_from_width = Length::from_metres(3.5);  // assumption
    std::optional<Length> daylight_from_width;            // none: no rule known
    Length national_height = Length::from_metres(4.0);
    std::string limits;  // name of a table of published limits beside the recipe: limits/NAME.toml; empty: none
};

/// Strict; unknown keys and words are input Errors with file and line.
[[nodiscard]] Recipe read_recipe(const Value& document, const std::string& file);

}  // namespace loamway

#endif
