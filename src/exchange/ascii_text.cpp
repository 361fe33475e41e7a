// SPDX-License-Identifier: Apache-2.0
#include "ascii_text.h"

#include <array>

#include "loamway/base/names.h"

namespace loamway {

namespace {

// U+00C0 .. U+00FF, in the order of the code chart.
constexpr std::array<std::string_view, 64> latin{
    "A", "A", "A", "A", "Ae", "A", "Ae", "C", "E", "E", "E", "E", "I",  "I", "I",  "I",
    "D", "N", "O", "O", "O",  "O", "Oe", "x", "O", "U", "U", "U", "Ue", "Y", "Th", "ss",
    "a", "a", "a", "a", "ae", "a", "ae", "c", "e", "e", "e", "e", "i",  "i", "i",  "i",
    "d", "n", "o", "o", "o",  "o", "oe", "/", "o", "u", "u", "u", "ue", "y", "th", "y"};

/// Bytes of the character that begins with `lead`.
std::size_t bytes_of(unsigned char lead) {
    return lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
}

std::string_view plain(std::string_view character) {
    if (character.size() == 1)
        return character;
    const auto lead = static_cast<unsigned char>(character[0]);
    if (lead != 0xC3 || character.size() != 2)
        return ".";
    return latin[static_cast<unsigned char>(character[1]) & 0x3Fu];
}

}  // namespace

std::string ascii_text(std::string_view raw, std::size_t most) {
    const std::string text = printable(raw);  // valid UTF-8 from here on
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = bytes_of(static_cast<unsigned char>(text[i]));
        const std::string_view piece = plain(std::string_view(text).substr(i, length));
        if (out.size() + piece.size() > most)
            break;
        out += piece;
        i += length;
    }
    while (!out.empty() && out.back() == ' ')
        out.pop_back();
    return out;
}

}  // namespace loamway
