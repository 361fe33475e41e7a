// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_EXPLAIN_H
#define LOAMWAY_TAGS_EXPLAIN_H

// Everything the rules read from the tags of one road or node, side by side for both vehicles. A pure
// function; nothing here points back into the tags.

#include <optional>
#include <string>
#include <vector>

#include "loamway/tags/access.h"
#include "loamway/tags/limits.h"
#include "loamway/tags/structure.h"
#include "loamway/tags/surface.h"
#include "loamway/tags/tag_view.h"
#include "loamway/tags/vehicle.h"

namespace loamway {

/// What one vehicle may do in one direction.
struct DirectionExplanation {
    AccessReading access;
    std::vector<LimitFinding> limits;  // without those that allow
    std::optional<Speed> speed;        // posted for this vehicle
    Passage passage = Passage::allow;  // access and limits together
};

struct VehicleExplanation {
    DirectionExplanation forward, backward;
    OneWay oneway = OneWay::both;
    std::optional<BarrierReading> barrier;          // with barrier=*
    std::optional<RestrictionReading> restriction;  // with a restriction key
};

/// A value with a number in it, as it was understood.
struct NumberExplanation {
    std::string key;
    std::string raw;
    std::string unit;  // "t", "m", "km/h"
    LimitReading reading;
};

struct TagExplanation {
    bool drivable = false;            // belongs in the graph
    SurfaceReading surface;           // outside built-up areas
    SurfaceReading surface_built_up;  // inside them
    VehicleExplanation machine, truck;
    std::vector<NumberExplanation> numbers;
    bool bridge = false;
    bool tunnel = false;
    bool ford = false;
    bool level_crossing = false;
    std::vector<std::string> notes;   // sentences on what the readings above mean on the road
    std::vector<std::string> unread;  // keys that no rule looks at
};
[[nodiscard]] TagExplanation explain_tags(const TagView& tags, const VehicleView& machine,
                                          const VehicleView& truck, const Moment& moment,
                                          double odds_factor = 1.0);

}  // namespace loamway

#endif
