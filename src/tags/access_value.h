// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_ACCESS_VALUE_H
#define LOAMWAY_TAGS_ACCESS_VALUE_H

// What one value of an access key says, for one vehicle.

#include <string_view>

#include "loamway/tags/vehicle.h"

namespace loamway {

struct AccessValue {
    Passage passage = Passage::allow;
    bool ends_only = false;
};
[[nodiscard]] AccessValue read_access_value(std::string_view value, const VehicleView& vehicle);

}  // namespace loamway

#endif
