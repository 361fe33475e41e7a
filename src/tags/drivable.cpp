// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <initializer_list>
#include <optional>

#include "access_value.h"
#include "conditional.h"
#include "loamway/tags/access.h"
#include "road_class.h"
#include "tag_text.h"

// What belongs in the graph. Runs once for every way of an extract, so the common road without any access
// tag is answered by its class alone.

namespace loamway {

namespace {

bool is_access_tag(std::string_view key) {
    for (const std::string_view stem : {"access", "vehicle", "motor_vehicle", "agricultural", "hgv"})
        if (key.starts_with(stem) && (key.size() == stem.size() || key[stem.size()] == ':'))
            return true;
    return false;
}

bool may_pass(std::string_view value, const VehicleView& vehicle) {
    return read_access_value(value, vehicle).passage != Passage::deny;
}

// What the value, or any clause at any hour, may make of the key.
struct Possible {
    bool decided = false;  // a plain value holds whenever no clause does
    bool open = false;
};

Possible possible_values(const TagView& tags, std::string_view key, const VehicleView& vehicle) {
    Possible possible;
    for (const char* direction : {"", ":forward", ":backward"}) {
        const std::string name = std::string(key) + direction;
        if (const auto value = tags.get(name)) {
            // A value for one direction leaves the other to the keys below.
            possible.decided = possible.decided || *direction == '\0';
            possible.open = possible.open || may_pass(*value, vehicle);
        }
        if (const auto raw = tags.get(name + ":conditional"))
            for (const ConditionalClause& clause : split_conditional(*raw))
                possible.open = possible.open || may_pass(clause.value, vehicle);
    }
    return possible;
}

bool any_key_opens(const TagView& tags, std::initializer_list<std::string_view> keys,
                   const VehicleView& vehicle) {
    return std::any_of(keys.begin(), keys.end(),
                       [&](std::string_view key) { return possible_values(tags, key, vehicle).open; });
}

// From the most specific key down: open as soon as one may open it, closed when one decides so.
bool chain_leaves_open(const TagView& tags, std::string_view own_key, const VehicleView& vehicle) {
    for (const std::string_view key : {own_key, std::string_view("motor_vehicle"),
                                       std::string_view("vehicle"), std::string_view("access")}) {
        if (key.empty())
            continue;
        const Possible possible = possible_values(tags, key, vehicle);
        if (possible.open)
            return true;
        if (possible.decided)
            return false;
    }
    return true;
}

}  // namespace

bool is_drivable(const TagView& tags) {
    const std::optional<std::string_view> highway = tags.get("highway");
    if (!highway || tags.is("route", "ferry"))
        return false;
    const RoadUse use = road_use(*highway);
    if (use == RoadUse::not_yet || use == RoadUse::never)
        return false;
    const bool access_tagged = std::any_of(tags.all().begin(), tags.all().end(),
                                           [](const Tag& tag) { return is_access_tag(tag.key); });
    if (!access_tagged)
        return use != RoadUse::restricted;
    VehicleView machine;
    VehicleView other_machine;
    other_machine.agricultural = false;
    VehicleView truck;
    truck.kind = VehicleKind::truck;
    if (use == RoadUse::restricted)
        return any_key_opens(tags, {"motor_vehicle", "agricultural"}, machine) ||
               any_key_opens(tags, {"motor_vehicle", "hgv"}, truck);
    return chain_leaves_open(tags, "hgv", truck) || chain_leaves_open(tags, "agricultural", machine) ||
           chain_leaves_open(tags, "", other_machine);
}

}  // namespace loamway
