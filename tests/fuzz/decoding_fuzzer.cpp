// SPDX-License-Identifier: Apache-2.0
// Bytes on their way to text: percent signs, queries, UTF-8, what a terminal may show. Small and fast, for
// many tries, each beside a plain second reading.

#include <optional>

#include "loamway/base/names.h"
#include "loamway/base/percent.h"
#include "target.h"

namespace {

using namespace loamway;

int hex_digit(char c) {
    constexpr std::string_view digits = "0123456789abcdefABCDEF";
    const std::size_t at = digits.find(c);
    return at == std::string_view::npos ? -1 : static_cast<int>(at < 16 ? at : at - 6);
}

std::optional<std::string> plainly_decoded(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '%') {
            out += text[i];
            continue;
        }
        const int high = i + 2 < text.size() ? hex_digit(text[i + 1]) : -1;
        const int low = i + 2 < text.size() ? hex_digit(text[i + 2]) : -1;
        if (high < 0 || low < 0)
            return std::nullopt;
        out += static_cast<char>(high * 16 + low);
        i += 2;
    }
    return out;
}

/// By the definition: shortest form, no surrogates, none beyond U+10FFFF.
bool plainly_utf8(std::string_view text) {
    while (!text.empty()) {
        const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
        const std::size_t length = byte(0) < 0x80 ? 1 : byte(0) < 0xe0 ? 2 : byte(0) < 0xf0 ? 3 : 4;
        if ((byte(0) >= 0x80 && byte(0) < 0xc0) || byte(0) >= 0xf8 || text.size() < length)
            return false;
        std::uint32_t point = length == 1 ? byte(0) : byte(0) & (0x7fu >> length);
        for (std::size_t i = 1; i < length; ++i) {
            if ((byte(i) & 0xc0) != 0x80)
                return false;
            point = point << 6 | (byte(i) & 0x3fu);
        }
        constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
        if (point < least[length] || point > 0x10ffff || (point >= 0xd800 && point < 0xe000))
            return false;
        text.remove_prefix(length);
    }
    return true;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = fuzz::text_of(data, size);
    const auto decoded = percent_decoded(text);
    fuzz::promise(decoded == plainly_decoded(text), "percent signs read another way");
    const bool whole = is_utf8(text);
    fuzz::promise(whole == plainly_utf8(text), "UTF-8 seen another way");
    const std::string made = valid_utf8(text);
    fuzz::promise(whole ? made == text : is_utf8(made), "bytes are not made UTF-8");
    for (const char c : printable(text))
        fuzz::promise(static_cast<unsigned char>(c) >= 0x20 && c != 0x7f, "a control character is shown");
    return 0;
}
