// SPDX-License-Identifier: Apache-2.0
#include "tag_number.h"

#include <algorithm>
#include <charconv>
#include <string>
#include <system_error>

#include "tag_text.h"

namespace loamway {

namespace {

bool is_number_char(char c) {
    return is_tag_digit(c) || c == '.' || c == ',';
}

// Digits with at most one point and nothing else; the last character is a digit.
std::optional<double> plain_number(std::string_view text) {
    if (text.empty() || !is_tag_digit(text.back()) || std::count(text.begin(), text.end(), '.') > 1)
        return std::nullopt;
    const std::string padded = "0" + std::string(text);  // ".5" is written often enough
    double value = 0.0;
    const auto [end, error] = std::from_chars(padded.data(), padded.data() + padded.size(), value);
    if (error != std::errc() || end != padded.data() + padded.size())
        return std::nullopt;
    return value;
}

// "13,000" or "1,234,567.8": one to three digits, then groups of exactly three before any point.
bool is_grouped(std::string_view text) {
    const std::string_view whole = text.substr(0, text.find('.'));
    std::size_t comma = whole.find(',');
    if (comma < 1 || comma > 3)
        return false;
    while (comma != std::string_view::npos) {
        const std::size_t next = whole.find(',', comma + 1);
        if (std::min(next, whole.size()) - comma != 4)
            return false;
        comma = next;
    }
    return true;
}

}  // namespace

NumberText split_number(std::string_view text) {
    const auto end = std::find_if_not(text.begin(), text.end(), is_number_char);
    const auto length = static_cast<std::size_t>(end - text.begin());
    return {text.substr(0, length), text.substr(length)};
}

std::optional<TagNumber> read_number(std::string_view digits, bool thousands) {
    const auto commas = std::count(digits.begin(), digits.end(), ',');
    TagNumber number;
    std::string plain(digits);
    if (commas > 1 ||
        (commas == 1 && (thousands || digits.find('.') != std::string_view::npos) && is_grouped(digits))) {
        if (!is_grouped(digits) || digits.rfind(',') > digits.find('.'))
            return std::nullopt;
        std::erase(plain, ',');
        number.thousands_comma = true;
    } else if (commas == 1) {
        const std::size_t comma = digits.find(',');
        if (comma == 0 || digits.find('.') != std::string_view::npos)
            return std::nullopt;
        plain[comma] = '.';
        number.decimal_comma = true;
    }
    const std::optional<double> value = plain_number(plain);
    if (!value)
        return std::nullopt;
    number.value = *value;
    return number;
}

std::optional<double> number_inside(std::string_view text) {
    for (;;) {
        const auto begin = std::find_if(text.begin(), text.end(), is_number_char);
        const NumberText found = split_number(text.substr(static_cast<std::size_t>(begin - text.begin())));
        if (found.digits.empty())
            return std::nullopt;
        if (std::any_of(found.digits.begin(), found.digits.end(), is_tag_digit)) {
            const std::optional<TagNumber> number = read_number(found.digits, false);
            return number ? std::optional(number->value) : std::nullopt;
        }
        text = found.rest;  // mere punctuation, as in "ca. 4"
    }
}

}  // namespace loamway
