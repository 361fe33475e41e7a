// SPDX-License-Identifier: Apache-2.0
#include "utf8.h"

namespace loamway {

Utf8Step next_utf8(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char first = byte(at);
    if (first < 0x80)
        return {char32_t{first}, 1};
    std::size_t length = 0;
    char32_t value = 0;
    char32_t least = 0;
    if ((first & 0xE0u) == 0xC0u) {
        length = 2, value = first & 0x1Fu, least = 0x80;
    } else if ((first & 0xF0u) == 0xE0u) {
        length = 3, value = first & 0x0Fu, least = 0x800;
    } else if ((first & 0xF8u) == 0xF0u) {
        length = 4, value = first & 0x07u, least = 0x10000;
    } else {
        return {};
    }
    if (text.size() - at < length)
        return {};
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(at + i) & 0xC0u) != 0x80u)
            return {};
        value = (value << 6u) | (byte(at + i) & 0x3Fu);
    }
    const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
    if (value < least || value > 0x10FFFF || surrogate)
        return {};
    return {value, length};
}

}  // namespace loamway
