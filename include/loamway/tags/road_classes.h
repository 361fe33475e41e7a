// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_ROAD_CLASSES_H
#define LOAMWAY_TAGS_ROAD_CLASSES_H

// Classes of road by the value of highway=*.

#include <string_view>
#include <vector>

namespace loamway {

/// motorway_link -> motorway; any other value unchanged.
[[nodiscard]] std::string_view without_link(std::string_view highway);

/// Those that have odds of their own of being paved where no tag says.
[[nodiscard]] std::vector<std::string_view> classes_with_odds();

}  // namespace loamway

#endif
