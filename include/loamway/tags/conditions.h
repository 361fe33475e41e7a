// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_CONDITIONS_H
#define LOAMWAY_TAGS_CONDITIONS_H

// What a moment can change about roads: nothing but the conditions written in their "...:conditional" tags.

#include <string>

#include "loamway/tags/tag_view.h"
#include "loamway/tags/vehicle.h"

namespace loamway {

[[nodiscard]] bool has_conditions(const TagView& tags);
/// Adds one letter for each condition of these tags: 'y' it holds, 'n' it does not, '?' nobody can say. At
/// two moments with the same letters the tags are read alike.
void add_conditions(std::string& letters, const TagView& tags, const VehicleView& vehicle,
                    const Moment& moment);

}  // namespace loamway

#endif
