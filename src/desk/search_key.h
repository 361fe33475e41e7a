// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_DESK_SEARCH_KEY_H
#define LOAMWAY_SRC_DESK_SEARCH_KEY_H

#include <string>
#include <string_view>

namespace loamway {

/// What is compared when a name is searched: lower case, letters without marks, ä and ae alike (Mühle, Muehle
/// and muhle are one). Letters of other scripts stay as they are.
[[nodiscard]] std::string search_key(std::string_view name);

}  // namespace loamway

#endif
