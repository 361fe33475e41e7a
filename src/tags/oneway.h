// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_ONEWAY_H
#define LOAMWAY_TAGS_ONEWAY_H

// One-way rules at a moment; read_oneway is the same without a time.

#include <string>
#include <vector>

#include "loamway/tags/access.h"

namespace loamway {

struct OneWayReading {
    OneWay oneway = OneWay::both;
    std::string reason;  // "oneway=yes", "oneway by junction=roundabout"; empty when nothing says so
    std::vector<std::string> flags;
};
[[nodiscard]] OneWayReading read_oneway_at(const TagView& tags, const VehicleView& vehicle,
                                           const Moment& moment);

}  // namespace loamway

#endif
