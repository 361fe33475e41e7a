// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_LIMITS_H
#define LOAMWAY_TAGS_LIMITS_H

// Numbers with units in tags (weights, lengths, speeds) and their comparison with a vehicle.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/tags/access.h"
#include "loamway/tags/tag_view.h"
#include "loamway/tags/vehicle.h"

namespace loamway {

/// How a raw value was read. `value` is in tonnes, metres or km/h and set for `limit` only; `hint` is a
/// number seen inside a value that cannot be trusted.
struct LimitReading {
    enum class Kind { limit, unlimited, unlimited_doubtful, standard, below_standard, unknown, unparsed };
    Kind kind = Kind::unknown;
    std::optional<double> value;
    std::optional<double> hint;
    std::vector<std::string> warnings;  // "missing_space", "decimal_comma", "list_min", ...
};
[[nodiscard]] std::string_view name_of(LimitReading::Kind kind);  // "limit", "default", "unlimited?", ...

[[nodiscard]] LimitReading read_mass(std::string_view raw);
[[nodiscard]] LimitReading read_length(std::string_view raw);
[[nodiscard]] LimitReading read_speed(std::string_view raw);

/// One comparison of the vehicle with a posted limit (or one that could not be read).
struct LimitFinding {
    Passage passage = Passage::allow;
    std::string key;   // "maxheight"
    std::string text;  // "maxheight 3.8 m, vehicle 3.60 m + 0.10 m margin"
};
/// All limits on a way or node in one direction: weight, height, width, length, axle load; conditional ones
/// at the moment. Findings with `allow` are left out.
[[nodiscard]] std::vector<LimitFinding> read_limits(const TagView& tags, const VehicleView& vehicle,
                                                    Direction direction, const Moment& moment);

/// Speed the tags permit and the road's class suggests for this vehicle kind; no value: nothing posted.
[[nodiscard]] std::optional<Speed> posted_speed(const TagView& tags, Direction direction,
                                                const VehicleView& vehicle, const Moment& moment);

}  // namespace loamway

#endif
