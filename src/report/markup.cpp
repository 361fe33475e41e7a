// SPDX-License-Identifier: Apache-2.0
#include "markup.h"

namespace loamway {

std::string markup_text(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (const char c : text)
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&#39;";
                break;
            default:
                out += c;
        }
    return out;
}

}  // namespace loamway
