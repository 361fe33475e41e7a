// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_TAG_LOOKUP_H
#define LOAMWAY_TAGS_TAG_LOOKUP_H

// The value of a key for one direction at one moment. KEY:forward beats KEY; then the clauses of
// KEY:conditional apply, then those of KEY:forward:conditional, each over what came before.

#include <string>
#include <string_view>
#include <vector>

#include "loamway/tags/access.h"
#include "loamway/tags/tag_view.h"
#include "loamway/tags/vehicle.h"

namespace loamway {

/// A clause that cannot be decided here.
struct UndecidedClause {
    std::string value;
    bool purpose = false;  // it depends on having business at the end of the road
};

struct TagLookup {
    bool found = false;  // some value holds; undecided clauses alone do not make one
    std::string key;     // that gave the value: "vehicle:backward", "hgv:conditional"
    std::string value;
    std::vector<std::string> flags;  // "verify:..." for each undecided clause
    std::vector<UndecidedClause> undecided;
};
[[nodiscard]] TagLookup look_up(const TagView& tags, std::string_view key, Direction direction,
                                const VehicleView& vehicle, const Moment& moment);
/// The same for keys that have no direction of their own (oneway, restriction).
[[nodiscard]] TagLookup look_up(const TagView& tags, std::string_view key, const VehicleView& vehicle,
                                const Moment& moment);

/// The vehicle class that has keys of its own: "hgv" for the truck, "agricultural" for a machine that is
/// one, else nothing.
[[nodiscard]] std::string_view own_class_key(const VehicleView& vehicle);

/// KEY:hgv or KEY:agricultural where the road has it for this vehicle, else KEY.
[[nodiscard]] TagLookup look_up_for_class(const TagView& tags, std::string_view key, Direction direction,
                                          const VehicleView& vehicle, const Moment& moment);

}  // namespace loamway

#endif
