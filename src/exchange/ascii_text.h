// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_EXCHANGE_ASCII_TEXT_H
#define LOAMWAY_SRC_EXCHANGE_ASCII_TEXT_H

#include <string>
#include <string_view>

namespace loamway {

/// For small receivers: letters with marks become plain ones ("Mühle" -> "Muehle"), anything else outside
/// ASCII a full stop; at most `most` characters, without blanks at the end.
[[nodiscard]] std::string ascii_text(std::string_view text, std::size_t most);

}  // namespace loamway

#endif
