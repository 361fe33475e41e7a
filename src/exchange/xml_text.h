// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_EXCHANGE_XML_TEXT_H
#define LOAMWAY_SRC_EXCHANGE_XML_TEXT_H

#include <string>
#include <string_view>

namespace loamway {

/// Text that XML 1.0 may carry: printable() leaves two characters that it may not.
[[nodiscard]] std::string xml_text(std::string_view raw);

}  // namespace loamway

#endif
