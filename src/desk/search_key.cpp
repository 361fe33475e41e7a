// SPDX-License-Identifier: Apache-2.0
#include "search_key.h"

#include <array>
#include <cstddef>

namespace loamway {

namespace {

// U+00C0 .. U+017F in the order of the code charts; a full stop: kept as it is.
constexpr std::string_view latin =
    "aaaaaaaceeeeiiiidnooooo.ouuuuy.."
    "aaaaaaaceeeeiiiidnooooo.ouuuuy.y"
    "aaaaaaccccccccddddeeeeeeeeeegggg"
    "gggghhhhiiiiiiiiiiiijjkk.lllllll"
    "lllnnnnnnnnnoooooooorrrrrrssssss"
    "ssttttttuuuuuuuuuuuuwwyyyzzzzzzs";
constexpr unsigned latin_first = 0xC0;
constexpr unsigned sharp_s = 0xDF;
constexpr unsigned ae_ligature = 0xC6;
static_assert(latin.size() == 0x180 - latin_first);

/// The letter without marks of a two-byte character; nothing when it has none.
std::string_view plain(unsigned code) {
    if (code == sharp_s)
        return "ss";
    if (code == ae_ligature || code == ae_ligature + 0x20)
        return "a";
    if (code < latin_first || code - latin_first >= latin.size() || latin[code - latin_first] == '.')
        return {};
    return latin.substr(code - latin_first, 1);
}

}  // namespace

std::string search_key(std::string_view name) {
    std::string out;
    for (std::size_t i = 0; i < name.size(); ++i) {
        const auto c = static_cast<unsigned char>(name[i]);
        if (c >= 0xC2 && c <= 0xC5 && i + 1 < name.size()) {
            const unsigned code = ((c & 0x1Fu) << 6) | (static_cast<unsigned char>(name[i + 1]) & 0x3Fu);
            if (const std::string_view letter = plain(code); !letter.empty()) {
                out += letter;
                ++i;
                continue;
            }
        }
        const char lower = c >= 'A' && c <= 'Z' ? static_cast<char>(c + ('a' - 'A')) : name[i];
        // The e of a written-out umlaut.
        const bool umlaut =
            lower == 'e' && !out.empty() && (out.back() == 'a' || out.back() == 'o' || out.back() == 'u');
        if (!umlaut)
            out += lower;
    }
    return out;
}

}  // namespace loamway
