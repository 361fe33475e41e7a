// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_ACCESS_H
#define LOAMWAY_TAGS_ACCESS_H

// Who may use a road, in which direction, at which hour. Three-valued: what cannot be read is "check",
// never "no limit". Pure functions.

#include <string>
#include <vector>

#include "loamway/tags/tag_view.h"
#include "loamway/tags/vehicle.h"

namespace loamway {

enum class Direction { forward, backward };

struct AccessReading {
    Passage passage = Passage::allow;
    /// Only as the first or last stretch of a move (destination, private, customers, delivery, permit):
    /// driving through needs somebody's yes.
    bool ends_only = false;
    std::string reason;              // "motor_vehicle=destination", "default:path=no"
    std::vector<std::string> flags;  // "verify:no @ wet", ...
};

/// Access keys, class defaults, motorroad, minspeed, one-way and conditional values; not the limits.
[[nodiscard]] AccessReading read_access(const TagView& tags, const VehicleView& vehicle, Direction direction,
                                        const Moment& moment);

enum class OneWay { both, forward, backward, time_dependent };
[[nodiscard]] OneWay read_oneway(const TagView& tags, const VehicleView& vehicle);
[[nodiscard]] std::string_view name_of(OneWay o);

/// Whether any vehicle this program knows could drive here, at any hour: what belongs in the graph.
[[nodiscard]] bool is_drivable(const TagView& tags);

struct ConditionalReading {
    std::string value;               // base value or that of the last matching clause
    std::vector<std::string> flags;  // "verify:..." for clauses that cannot be decided here
};
[[nodiscard]] ConditionalReading read_conditional(std::string_view base, std::string_view conditional,
                                                  const VehicleView& vehicle, const Moment& moment);

}  // namespace loamway

#endif
