// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/names.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

#include "utf8.h"

namespace loamway {

namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";  // U+FFFD
// Nobody types longer names by hand, and the distance costs the product of the two lengths.
constexpr std::size_t longest_compared = 200;

std::u32string code_points(std::string_view text) {
    std::u32string out;
    for (std::size_t at = 0; at < text.size();) {
        const Utf8Step step = next_utf8(text, at);
        out.push_back(step.code_point.value_or(U'\uFFFD'));
        at += step.bytes;
    }
    return out;
}

/// Optimal string alignment: insert, delete, replace and swap of neighbours cost one each.
std::size_t edit_distance(const std::u32string& a, const std::u32string& b) {
    std::vector<std::size_t> before(b.size() + 1);
    std::vector<std::size_t> last(b.size() + 1);
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j)
        last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replace = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, replace});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], before[j - 2] + 1);
        }
        std::swap(before, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

/// The distance when it is small enough that the candidate can have been meant.
std::optional<std::size_t> near_distance(const std::u32string& word, std::string_view candidate) {
    const std::u32string other = code_points(ascii_lower(candidate));
    const std::size_t most = std::max<std::size_t>(1, word.size() / 3);
    const std::size_t shorter = std::min(word.size(), other.size());
    const std::size_t longer = std::max(word.size(), other.size());
    if (longer > longest_compared || longer - shorter > most || shorter == 0)
        return std::nullopt;
    const std::size_t d = edit_distance(word, other);
    // A one-letter word is one step from every other one-letter word: that is no likeness.
    if (d > most || d >= longer)
        return std::nullopt;
    return d;
}

/// Controls, line and paragraph separators, and the marks that reorder or hide text on a line.
bool moves_the_cursor(char32_t c) {
    const bool control = c < 0x20 || (c >= 0x7F && c <= 0x9F);
    const bool separator = c == 0x2028 || c == 0x2029;
    const bool direction = c == 0x061C || c == 0x200E || c == 0x200F || (c >= 0x202A && c <= 0x202E) ||
                           (c >= 0x2066 && c <= 0x2069);
    return control || separator || direction || c == 0xFEFF;
}

/// Code points that are no characters and never will be: XML forbids some, drawing libraries refuse a text
/// that holds one.
bool is_no_character(char32_t c) {
    return (c >= 0xFDD0 && c <= 0xFDEF) || (c & 0xFFFEu) == 0xFFFEu;
}

}  // namespace

std::string nearest_name(std::string_view word, std::span<const std::string_view> candidates) {
    const std::vector<std::string> found = nearest_names(word, candidates, 1);
    return found.empty() ? std::string() : found.front();
}

std::vector<std::string> nearest_names(std::string_view word, std::span<const std::string_view> candidates,
                                       std::size_t most) {
    const std::u32string wanted = code_points(ascii_lower(word));
    std::vector<std::pair<std::size_t, std::string_view>> found;
    for (const std::string_view candidate : candidates) {
        if (const auto d = near_distance(wanted, candidate))
            found.emplace_back(*d, candidate);
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string> out;
    for (const auto& [d, name] : found) {
        if (out.size() == most)
            break;
        if (std::find(out.begin(), out.end(), name) == out.end())
            out.emplace_back(name);
    }
    return out;
}

std::string ascii_lower(std::string_view text) {
    std::string out(text);
    for (char& c : out) {
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
    }
    return out;
}

std::string printable(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const Utf8Step step = next_utf8(text, at);
        const char first = text[at];
        if (first == '\n' || first == '\r' || first == '\t')
            out += ' ';
        else if (!step.code_point || moves_the_cursor(*step.code_point) || is_no_character(*step.code_point))
            out += replacement;
        else
            out += text.substr(at, step.bytes);
        at += step.bytes;
    }
    return out;
}

std::string valid_utf8(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const Utf8Step step = next_utf8(text, at);
        out += step.code_point ? text.substr(at, step.bytes) : replacement;
        at += step.bytes;
    }
    return out;
}

bool is_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        if (static_cast<unsigned char>(text[i]) < 0x80) {
            ++i;
            continue;
        }
        const Utf8Step step = next_utf8(text, i);
        if (!step.code_point)
            return false;
        i += step.bytes;
    }
    return true;
}

}  // namespace loamway
