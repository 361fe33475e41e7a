// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_NAMES_H
#define LOAMWAY_BASE_NAMES_H

// Words that people type: nearest known word, text without control characters.

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace loamway {

/// The candidate with the least edit distance, when it is near enough to be meant; empty otherwise.
[[nodiscard]] std::string nearest_name(std::string_view word, std::span<const std::string_view> candidates);
/// Up to `most` candidates, nearest first, for a "did you mean" line. Case does not count.
[[nodiscard]] std::vector<std::string> nearest_names(std::string_view word,
                                                     std::span<const std::string_view> candidates,
                                                     std::size_t most);
/// Lower case for ASCII letters only: independent of the locale.
[[nodiscard]] std::string ascii_lower(std::string_view text);
/// Replaces control characters, bidirectional overrides and invalid UTF-8 so that a stranger's name
/// cannot move the cursor or reorder a line.
[[nodiscard]] std::string printable(std::string_view text);
/// Well-formed UTF-8: no overlong forms, no surrogates, nothing above U+10FFFF.
[[nodiscard]] bool is_utf8(std::string_view text);
/// Replaces only what is no UTF-8, for outputs that escape control characters themselves.
[[nodiscard]] std::string valid_utf8(std::string_view text);

}  // namespace loamway

#endif
