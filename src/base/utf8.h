// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BASE_UTF8_H
#define LOAMWAY_SRC_BASE_UTF8_H

#include <cstddef>
#include <optional>
#include <string_view>

namespace loamway {

/// One code point and the bytes it took. No code point: those bytes are no UTF-8.
struct Utf8Step {
    std::optional<char32_t> code_point;
    std::size_t bytes = 1;
};

/// Decodes what starts at `at`, which must lie within the text. Overlong forms, surrogates and values above
/// U+10FFFF are refused; a bad byte is skipped alone, so that the next good sequence is found again.
[[nodiscard]] Utf8Step next_utf8(std::string_view text, std::size_t at);

}  // namespace loamway

#endif
