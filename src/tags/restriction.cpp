// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <optional>

#include "loamway/base/names.h"
#include "loamway/tags/structure.h"
#include "tag_lookup.h"
#include "tag_text.h"

namespace loamway {

namespace {

bool is_kind(std::string_view kind) {
    return kind.starts_with("no_") || kind.starts_with("only_");
}

// type=restriction, and the older type=restriction:hgv for one vehicle class.
bool is_meant(std::string_view type, const VehicleView& vehicle) {
    constexpr std::string_view stem = "restriction";
    if (!type.starts_with(stem))
        return false;
    type.remove_prefix(stem.size());
    if (type.empty() || type == ":vehicle" || type == ":motor_vehicle")
        return true;
    const std::string_view own = own_class_key(vehicle);
    return !own.empty() && type.size() == own.size() + 1 && type.front() == ':' && type.ends_with(own);
}

// The restriction as the most specific key for the vehicle gives it.
TagLookup most_specific(const TagView& tags, const VehicleView& vehicle, const Moment& moment) {
    std::vector<std::string> keys;
    if (const std::string_view own = own_class_key(vehicle); !own.empty())
        keys.push_back("restriction:" + std::string(own));
    keys.insert(keys.end(), {"restriction:motor_vehicle", "restriction:vehicle", "restriction"});
    TagLookup result;
    for (const std::string& key : keys) {
        TagLookup one = look_up(tags, key, vehicle, moment);
        one.undecided.insert(one.undecided.begin(), result.undecided.begin(), result.undecided.end());
        result = std::move(one);
        if (result.found)
            break;
    }
    return result;
}

}  // namespace

bool is_excepted(std::string_view except, const VehicleView& vehicle) {
    const std::string_view own = own_class_key(vehicle);
    for (const std::string_view part : split_tag(except, ';')) {
        const std::string word = ascii_lower(part);
        if (word == "vehicle" || word == "motor_vehicle" || (!own.empty() && word == own))
            return true;
    }
    return false;
}

RestrictionReading read_restriction(const TagView& tags, const VehicleView& vehicle, const Moment& moment) {
    RestrictionReading reading;
    if (!is_meant(tags.get("type").value_or("restriction"), vehicle))
        return reading;
    if (is_excepted(tags.get("except").value_or(""), vehicle))
        return reading;
    const TagLookup lookup = most_specific(tags, vehicle, moment);
    std::string kind = ascii_lower(lookup.value);
    if (!is_kind(kind) && !lookup.undecided.empty())
        kind = ascii_lower(lookup.undecided.front().value);
    if (!is_kind(kind))
        return reading;
    reading.kind = printable(kind);
    reading.only = kind.starts_with("only_");
    // What may hold is taken to hold, and said so.
    reading.applies = true;
    const bool old_hours = std::any_of(tags.all().begin(), tags.all().end(), [](const Tag& tag) {
        return tag_is_in(tag.key, {"day_on", "day_off", "hour_on", "hour_off"});
    });
    reading.check = !lookup.undecided.empty() || old_hours;
    return reading;
}

}  // namespace loamway
