// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_STRUCTURE_H
#define LOAMWAY_TAGS_STRUCTURE_H

// What stands on or along a road: barriers, bridges, tunnels, fords, level crossings, turn restrictions.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/tags/access.h"
#include "loamway/tags/tag_view.h"
#include "loamway/tags/vehicle.h"

namespace loamway {

struct BarrierReading {
    enum class State { pass, pass_check, check, check_height, check_weight, block, block_check };
    State state = State::pass;
    std::vector<std::string> flags;  // "width", "height", "weight"
    /// How a route treats it: pass -> allow, block -> deny (block_check too), the rest -> check.
    [[nodiscard]] Passage passage() const;
};
[[nodiscard]] std::string_view name_of(BarrierReading::State s);
/// Reads a node (or way) with barrier=*; a view without the key passes.
[[nodiscard]] BarrierReading read_barrier(const TagView& tags, const VehicleView& vehicle);

[[nodiscard]] bool is_bridge(const TagView& tags);
[[nodiscard]] bool is_tunnel(const TagView& tags);  // includes covered
[[nodiscard]] bool is_ford(const TagView& tags);
[[nodiscard]] bool is_level_crossing(const TagView& tags);
/// Nodes that change how a route may run or what it must tell; such nodes become graph nodes.
[[nodiscard]] bool is_node_that_matters(const TagView& tags);

struct RestrictionReading {
    bool applies = false;  // to this vehicle at this moment
    bool only = false;
    bool check = false;  // cannot be decided here (condition not understood)
    std::string kind;    // "no_left_turn"
};
/// Tags of a type=restriction relation.
[[nodiscard]] RestrictionReading read_restriction(const TagView& tags, const VehicleView& vehicle,
                                                  const Moment& moment);
/// except=a;b against a vehicle.
[[nodiscard]] bool is_excepted(std::string_view except, const VehicleView& vehicle);

}  // namespace loamway

#endif
