// SPDX-License-Identifier: Apache-2.0
#include "access_value.h"

#include <string>

#include "loamway/base/names.h"
#include "tag_text.h"

namespace loamway {

namespace {

AccessValue read_one(std::string_view value, const VehicleView& vehicle) {
    const std::string word = ascii_lower(value);
    if (tag_is_in(word, {"yes", "designated", "permissive", "official", "public"}))
        return {Passage::allow, false};
    if (tag_is_in(word, {"no", "dismount"}))
        return {Passage::deny, false};
    // A purpose, not a vehicle class. For a farm machine it usually fits, but a closed farmer's lane is
    // often tagged like this too; a low-bed at best delivers there.
    if (tag_is_in(word, {"agricultural", "forestry"}))
        return {Passage::check, vehicle.kind == VehicleKind::truck || !vehicle.agricultural};
    // Somebody's yes is needed, or business at the end of the road.
    if (tag_is_in(word,
                  {"destination", "private", "customers", "delivery", "permit", "residents", "employees",
                   "members", "emergency", "military", "bus", "psv", "taxi", "foot", "bicycle"}))
        return {Passage::check, true};
    return {Passage::check, false};  // discouraged, unknown, and whatever cannot be read
}

}  // namespace

AccessValue read_access_value(std::string_view value, const VehicleView& vehicle) {
    bool any_allow = false;
    bool any_deny = false;
    bool any_check = false;
    bool any_through = false;  // a part that does not only open the road at its ends
    for (const std::string_view part : split_tag(value, ';')) {
        const AccessValue one = read_one(part, vehicle);
        any_allow = any_allow || one.passage == Passage::allow;
        any_deny = any_deny || one.passage == Passage::deny;
        any_check = any_check || one.passage == Passage::check;
        any_through = any_through || (one.passage != Passage::deny && !one.ends_only);
    }
    if (any_deny && !any_allow && !any_check)
        return {Passage::deny, false};
    if (any_allow && !any_deny && !any_check)
        return {Passage::allow, false};
    return {Passage::check, any_check && !any_through};
}

}  // namespace loamway
