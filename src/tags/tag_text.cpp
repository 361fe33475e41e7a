// SPDX-License-Identifier: Apache-2.0
#include "tag_text.h"

#include <algorithm>

namespace loamway {

bool is_tag_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' || c == '\v';
}

bool is_tag_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_tag_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

std::string_view trim_tag(std::string_view text) {
    while (!text.empty() && is_tag_blank(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && is_tag_blank(text.back()))
        text.remove_suffix(1);
    return text;
}

std::vector<std::string_view> split_tag(std::string_view text, char separator) {
    std::vector<std::string_view> parts;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(separator), text.size());
        if (const std::string_view part = trim_tag(text.substr(0, end)); !part.empty())
            parts.push_back(part);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return parts;
}

bool tag_is_in(std::string_view word, std::initializer_list<std::string_view> words) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

bool tag_says_yes(std::string_view value) {
    const std::string_view word = trim_tag(value);
    return !word.empty() && word != "no" && word != "false" && word != "0";
}

}  // namespace loamway
