// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_REPORT_HTML_ASSETS_H
#define LOAMWAY_SRC_REPORT_HTML_ASSETS_H

#include <string_view>

namespace loamway {

/// Style and script of the HTML sheet.
[[nodiscard]] std::string_view sheet_style();
[[nodiscard]] std::string_view sheet_script();

}  // namespace loamway

#endif
