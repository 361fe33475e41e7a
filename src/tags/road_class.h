// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_ROAD_CLASS_H
#define LOAMWAY_TAGS_ROAD_CLASS_H

// What a value of highway=* means for driving, before any access tag is read.

#include <string_view>

namespace loamway {

enum class RoadUse {
    open,        // anybody may drive unless a tag says otherwise
    motorway,    // trucks only, farm machines only where the road says so
    restricted,  // paths and the like: closed unless a tag opens them for motor vehicles
    not_yet,     // construction, proposed
    never        // steps, platforms, and what is not a road at all
};
[[nodiscard]] RoadUse road_use(std::string_view highway);

}  // namespace loamway

#endif
