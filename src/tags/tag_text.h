// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TAGS_TAG_TEXT_H
#define LOAMWAY_TAGS_TAG_TEXT_H

// Small text helpers that the tag rules share. Blanks are ASCII blanks; nothing depends on the locale.

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

namespace loamway {

[[nodiscard]] bool is_tag_blank(char c);
[[nodiscard]] bool is_tag_digit(char c);
[[nodiscard]] bool is_tag_letter(char c);

/// Without blanks at both ends.
[[nodiscard]] std::string_view trim_tag(std::string_view text);
/// The trimmed, non-empty parts between separators.
[[nodiscard]] std::vector<std::string_view> split_tag(std::string_view text, char separator);
/// Whether the word is one of those listed.
[[nodiscard]] bool tag_is_in(std::string_view word, std::initializer_list<std::string_view> words);
/// Set and not "no": bridge=viaduct is, bridge=no is not.
[[nodiscard]] bool tag_says_yes(std::string_view value);

}  // namespace loamway

#endif
