// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_MARKUP_H
#define LOAMWAY_SRC_REPORT_MARKUP_H

#include <string>
#include <string_view>

namespace loamway {

/// Text as it may stand in HTML, SVG or XML, between tags or inside a quoted attribute: no name a stranger
/// chose can become markup.
[[nodiscard]] std::string markup_text(std::string_view text);

}  // namespace loamway

#endif
