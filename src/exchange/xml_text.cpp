// SPDX-License-Identifier: Apache-2.0
#include "xml_text.h"

#include "loamway/base/names.h"

namespace loamway {

std::string xml_text(std::string_view raw) {
    std::string text = printable(raw);
    for (const std::string_view forbidden : {"\xEF\xBF\xBE", "\xEF\xBF\xBF"})
        for (auto at = text.find(forbidden); at != std::string::npos; at = text.find(forbidden))
            text.replace(at, forbidden.size(), "?");
    return text;
}

}  // namespace loamway
