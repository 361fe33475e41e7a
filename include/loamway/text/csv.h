// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TEXT_CSV_H
#define LOAMWAY_TEXT_CSV_H

// Plain comma-separated text: the first line names the columns, in any order; fields are not quoted; an
// optional field may be left empty; empty lines are skipped. Every fault is an input Error with file and
// line.

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/text/table.h"

namespace loamway {

struct CsvColumn {
    std::string_view name;
    bool needed = false;  // the column, and a value in each line
};

class CsvRow {
public:
    CsvRow(std::span<const CsvColumn> columns, std::string file, int line);
    /// Of the column with that place in the list; none when it is empty or not there.
    [[nodiscard]] std::optional<std::string_view> text(std::size_t column) const { return m_fields[column]; }
    [[nodiscard]] std::optional<double> number(std::size_t column, Range range) const;
    /// An input Error at this line.
    [[nodiscard]] Error error(std::string what, std::string to_do = {}) const;

private:
    friend class CsvReader;
    std::span<const CsvColumn> m_columns;
    std::vector<std::optional<std::string_view>> m_fields;
    std::string m_file;
    int m_line;
};

/// The rows of `text`, which has to outlive them, as do `columns`. A limit Error beyond `most` rows, called
/// `rows_are` in it.
[[nodiscard]] std::vector<CsvRow> read_csv(std::string_view text, const std::string& file,
                                           std::span<const CsvColumn> columns, std::size_t most,
                                           std::string_view rows_are);

/// A text as one cell of a line: printable, quoted where it must be (RFC 4180). A name that begins like a
/// formula gets an apostrophe, because a spreadsheet would run it; a number does not.
[[nodiscard]] std::string csv_cell(std::string_view text);

}  // namespace loamway

#endif
