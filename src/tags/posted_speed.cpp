// SPDX-License-Identifier: Apache-2.0
#include <optional>

#include "loamway/tags/limits.h"
#include "tag_lookup.h"

namespace loamway {

namespace {

// Walking pace, where the class alone says so; the wiki leaves the figure to each country (assumption).
constexpr double living_street_kmh = 7.0;

}  // namespace

std::optional<Speed> posted_speed(const TagView& tags, Direction direction, const VehicleView& vehicle,
                                  const Moment& moment) {
    const TagLookup lookup = look_up_for_class(tags, "maxspeed", direction, vehicle, moment);
    if (lookup.found) {
        const LimitReading speed = read_speed(lookup.value);
        if (speed.kind == LimitReading::Kind::limit && *speed.value > 0.0)
            return Speed::from_kmh(*speed.value);
    }
    if (tags.is("highway", "living_street"))
        return Speed::from_kmh(living_street_kmh);
    return std::nullopt;
}

}  // namespace loamway
