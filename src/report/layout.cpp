// SPDX-License-Identifier: Apache-2.0
#include "loamway/report/layout.h"

#include <fmt/format.h>

#include <algorithm>

namespace loamway {

namespace {

constexpr std::size_t column_gap = 2;

bool begins_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
}

/// The bytes of the first `columns` characters.
std::size_t bytes_of(std::string_view text, std::size_t columns) {
    std::size_t seen = 0;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (begins_character(text[i]) && ++seen > columns)
            return i;
    return text.size();
}

std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> out;
    while (!text.empty()) {
        const std::size_t blank = std::min(text.find(' '), text.size());
        if (blank > 0)
            out.push_back(text.substr(0, blank));
        text.remove_prefix(std::min(blank + 1, text.size()));
    }
    return out;
}

}  // namespace

std::size_t columns_of(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), begins_character));
}

std::string pad_right(std::string_view text, std::size_t columns) {
    const std::size_t have = columns_of(text);
    return std::string(text) + std::string(columns > have ? columns - have : 0, ' ');
}

std::string pad_left(std::string_view text, std::size_t columns) {
    const std::size_t have = columns_of(text);
    return std::string(columns > have ? columns - have : 0, ' ') + std::string(text);
}

std::string wrapped(std::string_view first, std::string_view text, std::size_t width) {
    const std::size_t indent = columns_of(first);
    const std::size_t room = width > indent + 8 ? width - indent : 8;
    std::string out(first);
    std::size_t used = 0;
    const auto new_line = [&] {
        out += "\n" + std::string(indent, ' ');
        used = 0;
    };
    for (std::string_view word : words_of(text)) {
        if (used > 0 && used + 1 + columns_of(word) > room)
            new_line();
        if (used > 0) {
            out += ' ';
            ++used;
        }
        while (columns_of(word) > room) {
            const std::size_t cut = bytes_of(word, room);
            out += word.substr(0, cut);
            word.remove_prefix(cut);
            new_line();
        }
        out += word;
        used += columns_of(word);
    }
    while (!out.empty() && out.back() == ' ')
        out.pop_back();
    return out + "\n";
}

std::string Marks::mark(std::string_view code, std::string_view text) const {
    return m_on ? fmt::format("\x1b[{}m{}\x1b[0m", code, text) : std::string(text);
}

std::vector<std::size_t> AlignedTable::widths() const {
    std::vector<std::size_t> out;
    for (const auto& row : m_rows)
        for (std::size_t c = 0; c < row.size(); ++c) {
            out.resize(std::max(out.size(), c + 1));
            out[c] = std::max(out[c], columns_of(row[c]));
        }
    return out;
}

std::string AlignedTable::text(const Marks& marks) const {
    const std::vector<std::size_t> columns = widths();
    std::string out;
    for (const auto& row : m_rows) {
        std::string line(column_gap, ' ');
        for (std::size_t c = 0; c < row.size(); ++c)
            line += c == 0 ? pad_right(row[c], columns[c])
                           : std::string(column_gap, ' ') + pad_left(row[c], columns[c]);
        line.erase(line.find_last_not_of(' ') + 1);
        out += (&row == m_rows.data() ? marks.bold(line) : line) + "\n";
    }
    return out;
}

}  // namespace loamway
