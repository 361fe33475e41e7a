// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_REPORT_LAYOUT_H
#define LOAMWAY_REPORT_LAYOUT_H

// Lines, columns and wrapping for plain text. Widths count characters, not bytes.

#include <string>
#include <string_view>
#include <vector>

namespace loamway {

[[nodiscard]] std::size_t columns_of(std::string_view text);
[[nodiscard]] std::string pad_right(std::string_view text, std::size_t columns);
[[nodiscard]] std::string pad_left(std::string_view text, std::size_t columns);

/// Words broken into lines of at most `width` columns: the first begins with `first`, the others with as
/// many blanks as it has columns. A word longer than a line is cut. Ends with a line end.
[[nodiscard]] std::string wrapped(std::string_view first, std::string_view text, std::size_t width);

/// ANSI marks, or nothing when the text goes to a file.
class Marks {
public:
    explicit Marks(bool on) : m_on(on) {}
    [[nodiscard]] std::string bold(std::string_view text) const { return mark("1", text); }
    [[nodiscard]] std::string red(std::string_view text) const { return mark("1;31", text); }
    [[nodiscard]] std::string yellow(std::string_view text) const { return mark("33", text); }

private:
    [[nodiscard]] std::string mark(std::string_view code, std::string_view text) const;
    bool m_on;
};

/// Rows of cells, aligned: the first column to the left, the others to the right.
class AlignedTable {
public:
    void row(std::vector<std::string> cells) { m_rows.push_back(std::move(cells)); }
    /// Every line begins with two blanks. `marks` make the first row bold.
    [[nodiscard]] std::string text(const Marks& marks) const;
    /// Columns the text takes with the first column and cells [from, to).
    [[nodiscard]] std::vector<std::size_t> widths() const;

private:
    std::vector<std::vector<std::string>> m_rows;
};

}  // namespace loamway

#endif
