// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REGION_META_H
#define LOAMWAY_SRC_REGION_META_H

// The facts about a region as JSON text, one line, keys in a fixed order.

#include <string>
#include <string_view>

#include "loamway/region/region.h"

namespace loamway {

constexpr std::size_t max_meta_bytes = std::size_t{1} << 20;

[[nodiscard]] std::string meta_to_json(const RegionMeta& meta);
/// Strict: an input Error for text that is no such JSON; `name` is what messages call it.
[[nodiscard]] RegionMeta meta_from_json(std::string_view text, const std::string& name);

}  // namespace loamway

#endif
