// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_TEXT_TOML_DEPTH_H
#define LOAMWAY_SRC_TEXT_TOML_DEPTH_H

#include <string_view>

namespace loamway {

/// The line where dotted keys, lists and inline tables together nest deeper than `most`; 0 when none does.
/// Asked before the parser runs: it builds a table for every part of a dotted key, and a key of a million
/// parts would overflow the stack when the tables are taken down again.
[[nodiscard]] int first_too_deep_line(std::string_view text, int most);

}  // namespace loamway

#endif
