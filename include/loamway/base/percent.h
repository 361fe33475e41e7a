// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_PERCENT_H
#define LOAMWAY_BASE_PERCENT_H

// Bytes that addresses write as a % and two hexadecimal digits (RFC 3986, section 2.1).

#include <optional>
#include <string>
#include <string_view>

namespace loamway {

/// "a%20b" -> "a b"; "+" stays unless `plus_is_space`. Nothing when a "%" is not followed by two hex digits.
[[nodiscard]] std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_space = false);

}  // namespace loamway

#endif
