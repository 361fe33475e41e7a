// SPDX-License-Identifier: Apache-2.0
#include "loamway/tags/access.h"

#include <array>
#include <optional>

#include "access_value.h"
#include "loamway/base/names.h"
#include "loamway/tags/limits.h"
#include "oneway.h"
#include "road_class.h"
#include "tag_lookup.h"
#include "tag_text.h"

namespace loamway {

namespace {

AccessReading reading_of(Passage passage, std::string reason, bool ends_only = false) {
    AccessReading reading;
    reading.passage = passage;
    reading.ends_only = ends_only;
    reading.reason = std::move(reason);
    return reading;
}

// The most specific key that says something. Undecided clauses of more specific keys are kept: they
// might have said something else.
struct ChainValue {
    TagLookup lookup;
    std::vector<std::string> flags;
    std::vector<std::string> values_with_purpose;
    std::string purpose_key;
};

ChainValue read_chain(const TagView& tags, const VehicleView& vehicle, Direction direction,
                      const Moment& moment) {
    const std::array<std::string_view, 4> keys{own_class_key(vehicle), "motor_vehicle", "vehicle", "access"};
    ChainValue chain;
    for (const std::string_view key : keys) {
        if (key.empty())
            continue;
        chain.lookup = look_up(tags, key, direction, vehicle, moment);
        chain.flags.insert(chain.flags.end(), chain.lookup.flags.begin(), chain.lookup.flags.end());
        for (const UndecidedClause& clause : chain.lookup.undecided) {
            if (!clause.purpose)
                continue;
            chain.values_with_purpose.push_back(clause.value);
            chain.purpose_key = std::string(key) + ":conditional";
        }
        if (chain.lookup.found)
            break;
    }
    return chain;
}

// The key without its direction and condition: "vehicle:backward" -> "vehicle".
std::string_view stem(std::string_view key) {
    return key.substr(0, key.find(':'));
}

// Whether the key that was found is specific enough to open a road that is closed by its class.
bool may_open(const ChainValue& chain, const VehicleView& vehicle, bool motor_vehicle_may) {
    if (!chain.lookup.found)
        return false;
    const std::string_view key = stem(chain.lookup.key);
    return key == own_class_key(vehicle) || (motor_vehicle_may && key == "motor_vehicle");
}

AccessReading from_value(const ChainValue& chain, const VehicleView& vehicle) {
    const AccessValue value = read_access_value(chain.lookup.value, vehicle);
    if (value.passage == Passage::deny) {
        // "no, but yes @ destination" is a destination road, although nobody here knows the driver's
        // business.
        for (const std::string& other : chain.values_with_purpose)
            if (read_access_value(other, vehicle).passage != Passage::deny)
                return reading_of(Passage::check, chain.purpose_key + "=" + printable(other), true);
    }
    return reading_of(value.passage, chain.lookup.key + "=" + printable(chain.lookup.value), value.ends_only);
}

AccessReading open_road(std::string_view highway, const TagView& tags, const ChainValue& chain,
                        const VehicleView& vehicle) {
    const std::string name = printable(highway);
    std::optional<AccessReading> tagged;
    if (chain.lookup.found)
        tagged = from_value(chain, vehicle);
    // Whether the ground of a farm track carries a loaded low-bed no access tag answers, except one that
    // speaks of heavy vehicles.
    if (vehicle.kind == VehicleKind::truck && highway == "track" &&
        (!tagged || (tagged->passage == Passage::allow && stem(chain.lookup.key) != "hgv")))
        return reading_of(Passage::check, "default:track=check", true);
    if (tagged)
        return *tagged;  // on a driveway too: a tag that opens it is the owner's yes
    const std::string_view service = tags.get("service").value_or("");
    if (highway == "service" &&
        tag_is_in(service, {"driveway", "parking_aisle", "drive-through", "emergency_access"}))
        return reading_of(Passage::check, "service=" + std::string(service), true);
    return reading_of(Passage::allow, "default:" + name + "=yes");
}

AccessReading by_class(std::string_view highway, const TagView& tags, const ChainValue& chain,
                       const VehicleView& vehicle) {
    const std::string name = printable(highway);
    const RoadUse use = road_use(highway);
    if (use == RoadUse::not_yet)
        return reading_of(Passage::deny, "highway=" + name);
    if (use == RoadUse::never)
        return reading_of(Passage::deny, "default:" + name + "=no");
    const bool motorroad = tags.is("motorroad", "yes");
    if (vehicle.kind == VehicleKind::machine && (use == RoadUse::motorway || motorroad)) {
        // A general motor_vehicle=yes is not meant for slow machines.
        if (may_open(chain, vehicle, false))
            return from_value(chain, vehicle);
        return reading_of(Passage::deny,
                          use == RoadUse::motorway ? "default:" + name + "=no" : "motorroad=no");
    }
    if (use == RoadUse::restricted) {
        if (may_open(chain, vehicle, true))
            return from_value(chain, vehicle);
        return reading_of(Passage::deny, "default:" + name + "=no");
    }
    return open_road(highway, tags, chain, vehicle);
}

// A check on top of what is there; a reason that said "allow" gives way to the one that matters.
void raise_to_check(AccessReading& reading, const std::string& reason) {
    if (reading.passage != Passage::allow)
        return;
    reading.passage = Passage::check;
    reading.reason = reason;
}

void apply_flags(AccessReading& reading, const std::vector<std::string>& flags) {
    reading.flags.insert(reading.flags.end(), flags.begin(), flags.end());
    if (!flags.empty())
        raise_to_check(reading, flags.front());
}

void apply_oneway(AccessReading& reading, const TagView& tags, const VehicleView& vehicle,
                  Direction direction, const Moment& moment) {
    const OneWayReading oneway = read_oneway_at(tags, vehicle, moment);
    const OneWay wrong = direction == Direction::forward ? OneWay::backward : OneWay::forward;
    apply_flags(reading, oneway.flags);
    if (oneway.oneway == wrong && reading.passage != Passage::deny) {
        reading.passage = Passage::deny;
        reading.ends_only = false;
        reading.reason = oneway.reason;
    } else if (oneway.oneway == OneWay::time_dependent) {
        raise_to_check(reading, oneway.reason);
    }
}

void apply_minspeed(AccessReading& reading, const TagView& tags, const VehicleView& vehicle,
                    Direction direction, const Moment& moment) {
    const TagLookup lookup = look_up(tags, "minspeed", direction, vehicle, moment);
    apply_flags(reading, lookup.flags);
    if (!lookup.found)
        return;
    const std::string reason = lookup.key + "=" + printable(lookup.value);
    const LimitReading speed = read_speed(lookup.value);
    if (speed.kind == LimitReading::Kind::unlimited)
        return;
    if (!speed.value || vehicle.top_speed <= Speed()) {
        raise_to_check(reading, reason);
    } else if (*speed.value > vehicle.top_speed.kmh() + 1e-6 && reading.passage != Passage::deny) {
        reading.passage = Passage::deny;
        reading.ends_only = false;
        reading.reason = reason;
    }
}

// Roads of snow and ice are there for part of the year only.
void apply_season(AccessReading& reading, const TagView& tags) {
    for (const std::string_view key : {"winter_road", "ice_road"})
        if (tags.is(key, "yes"))
            raise_to_check(reading, std::string(key) + "=yes");
}

// A ban on heavy vehicles does not bind the machine, but somebody had a reason for it.
void look_at_hgv_ban(AccessReading& reading, const TagView& tags, const VehicleView& vehicle) {
    if (vehicle.kind == VehicleKind::machine && tags.is("hgv", "no"))
        reading.flags.emplace_back("look:hgv=no");
}

}  // namespace

AccessReading read_access(const TagView& tags, const VehicleView& vehicle, Direction direction,
                          const Moment& moment) {
    const std::optional<std::string_view> highway = tags.get("highway");
    if (tags.is("route", "ferry"))
        return reading_of(Passage::deny, "route=ferry");
    if (!highway)
        return reading_of(Passage::deny, "default:no highway=no");
    const ChainValue chain = read_chain(tags, vehicle, direction, moment);
    AccessReading reading = by_class(*highway, tags, chain, vehicle);
    apply_flags(reading, chain.flags);
    apply_oneway(reading, tags, vehicle, direction, moment);
    apply_minspeed(reading, tags, vehicle, direction, moment);
    apply_season(reading, tags);
    look_at_hgv_ban(reading, tags, vehicle);
    return reading;
}

}  // namespace loamway
