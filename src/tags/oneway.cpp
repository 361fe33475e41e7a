// SPDX-License-Identifier: Apache-2.0
#include "oneway.h"

#include <optional>

#include "loamway/base/names.h"
#include "tag_lookup.h"
#include "tag_text.h"

namespace loamway {

namespace {

std::optional<OneWay> read_value(std::string_view value) {
    const std::string word = ascii_lower(value);
    if (tag_is_in(word, {"yes", "true", "1"}))
        return OneWay::forward;
    if (tag_is_in(word, {"-1", "reverse"}))
        return OneWay::backward;
    if (tag_is_in(word, {"no", "false", "0"}))
        return OneWay::both;
    if (tag_is_in(word, {"reversible", "alternating"}))
        return OneWay::time_dependent;
    return std::nullopt;
}

OneWayReading implied(const TagView& tags) {
    // A motorway_link is often two-way, and junction=circular has no rule of its own.
    if (tags.is("junction", "roundabout"))
        return {OneWay::forward, "oneway=yes by junction=roundabout", {}};
    if (tags.is("highway", "motorway"))
        return {OneWay::forward, "oneway=yes by highway=motorway", {}};
    return {};
}

}  // namespace

std::string_view name_of(OneWay o) {
    switch (o) {
        case OneWay::both:
            return "both";
        case OneWay::forward:
            return "forward";
        case OneWay::backward:
            return "backward";
        case OneWay::time_dependent:
            break;
    }
    return "time_dependent";
}

OneWayReading read_oneway_at(const TagView& tags, const VehicleView& vehicle, const Moment& moment) {
    OneWayReading reading = implied(tags);
    std::vector<std::string> flags;
    std::vector<std::string> keys{"oneway", "oneway:vehicle", "oneway:motor_vehicle"};
    if (const std::string_view own = own_class_key(vehicle); !own.empty())
        keys.push_back("oneway:" + std::string(own));
    for (const std::string& key : keys) {  // the later, more specific key wins
        const TagLookup lookup = look_up(tags, key, vehicle, moment);
        flags.insert(flags.end(), lookup.flags.begin(), lookup.flags.end());
        if (!lookup.found)
            continue;
        // What cannot be read might be anything: time_dependent means check in both directions.
        reading.oneway = read_value(lookup.value).value_or(OneWay::time_dependent);
        reading.reason = lookup.key + "=" + printable(lookup.value);
        flags = lookup.flags;
    }
    reading.flags = std::move(flags);
    return reading;
}

OneWay read_oneway(const TagView& tags, const VehicleView& vehicle) {
    const OneWayReading reading = read_oneway_at(tags, vehicle, Moment());
    return reading.flags.empty() ? reading.oneway : OneWay::time_dependent;
}

}  // namespace loamway
