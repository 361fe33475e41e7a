// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REGION_STOP_WORDS_H
#define LOAMWAY_REGION_STOP_WORDS_H

// The kinds of stop places as JSON and tiles write them. Pure.

#include <array>
#include <string_view>

#include "loamway/region/region.h"

namespace loamway {

[[nodiscard]] constexpr std::string_view name_of(StopPlaceKind kind) {
    constexpr std::array<std::string_view, 7> words{"rest area", "services",      "parking", "lay-by",
                                                    "yard",      "passing place", "side way"};
    const auto index = static_cast<std::size_t>(kind);
    return index < words.size() ? words[index] : "named";
}

}  // namespace loamway

#endif
