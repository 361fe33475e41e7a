// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_VEHICLE_H
#define LOAMWAY_TAGS_VEHICLE_H

// What tag rules need to know of a vehicle and of the hour.

#include <optional>
#include <string>
#include <vector>

#include "loamway/base/time.h"
#include "loamway/base/units.h"

namespace loamway {

enum class VehicleKind { machine, truck };

struct VehicleView {
    VehicleKind kind = VehicleKind::machine;
    bool agricultural = true;      // a machine that is legally an agricultural vehicle
    Length width, height, length;  // zero: unknown, compared as check
    Mass mass;                     // actual mass of the whole combination
    Mass axle;                     // heaviest axle; for a machine the heaviest track axle
    Speed top_speed;
    Length height_margin = Length::from_metres(0.10);
    Length width_margin = Length::from_metres(0.10);
};

/// The hour for conditional values. Without a time every time condition is "verify".
struct Moment {
    std::optional<LocalTime> time;
    std::optional<bool> daylight;
    std::optional<bool> wet;
};

/// allow < check < deny: combining two readings takes the greater.
enum class Passage { allow = 0, check = 1, deny = 2 };
[[nodiscard]] constexpr Passage worse(Passage a, Passage b) {
    return a < b ? b : a;
}
[[nodiscard]] constexpr std::string_view name_of(Passage p) {
    return p == Passage::allow ? "allow" : p == Passage::check ? "check" : "deny";
}

}  // namespace loamway

#endif
