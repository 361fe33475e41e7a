// SPDX-License-Identifier: Apache-2.0
#include "loamway/text/csv.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <charconv>
#include <cmath>
#include <utility>

#include "loamway/base/names.h"
#include "loamway/text/document_kind.h"

namespace loamway {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

std::string_view trimmed(std::string_view s) {
    const auto blank = [](char c) { return c == ' ' || c == '\t'; };
    while (!s.empty() && blank(s.front()))
        s.remove_prefix(1);
    while (!s.empty() && blank(s.back()))
        s.remove_suffix(1);
    return s;
}

bool is_number(std::string_view s) {
    double v = 0;
    const auto [stop, code] = std::from_chars(s.data(), s.data() + s.size(), v);
    return code == std::errc() && stop == s.data() + s.size();
}

/// Some programs pass over blanks before the sign, and take its wide form for it.
bool begins_like_a_formula(std::string_view text) {
    while (!text.empty() && std::string_view(" \t\r\n").find(text.front()) != std::string_view::npos)
        text.remove_prefix(1);
    for (const std::string_view sign :
         {"=", "+", "-", "@", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"})
        if (text.starts_with(sign))
            return !is_number(text);
    return false;
}

}  // namespace

CsvRow::CsvRow(std::span<const CsvColumn> columns, std::string file, int line)
    : m_columns(columns), m_fields(columns.size()), m_file(std::move(file)), m_line(line) {}

Error CsvRow::error(std::string what, std::string to_do) const {
    return {ErrorKind::input, std::move(what), std::move(to_do), {m_file, m_line, {}}};
}

std::optional<double> CsvRow::number(std::size_t column, Range range) const {
    const auto field = m_fields[column];
    if (!field)
        return std::nullopt;
    const std::string_view name = m_columns[column].name;
    double v = 0;
    const char* end = field->data() + field->size();
    const auto [stop, code] = std::from_chars(field->data(), end, v);
    if (code != std::errc() || stop != end || !std::isfinite(v))
        throw error(fmt::format("{} \"{}\" is not a number", name, printable(*field)),
                    "with a point for decimals");
    if (v < range.low || v > range.high)
        throw error(fmt::format("{} {} is out of range", name, *field),
                    fmt::format("{:g} to {:g}", range.low, range.high));
    return v + 0.0;  // never "-0"
}

/// Reads line by line: the first names the columns.
class CsvReader {
public:
    CsvReader(std::string file, std::span<const CsvColumn> columns)
        : m_file(std::move(file)), m_columns(columns) {}

    [[nodiscard]] bool has_header() const { return !m_order.empty(); }

    void header(std::string_view line, int number) {
        const CsvRow at(m_columns, m_file, number);
        if (line.find(';') != std::string_view::npos && line.find(',') == std::string_view::npos)
            throw at.error("the fields are separated by semicolons",
                           "separate them by commas, with a point for decimals");
        std::vector<bool> seen(m_columns.size());
        for (const std::string_view name : fields_of(line, at)) {
            const std::size_t i = column_named(name, at);
            if (seen[i])
                throw at.error(fmt::format("the column {} is there twice", name));
            seen[i] = true;
            m_order.push_back(i);
        }
        for (std::size_t i = 0; i < m_columns.size(); ++i)
            if (m_columns[i].needed && !seen[i])
                throw at.error(fmt::format("the column {} is missing", m_columns[i].name),
                               fmt::format("the first line names the columns: {}", fmt::join(names(), ",")));
    }

    [[nodiscard]] CsvRow row(std::string_view line, int number) const {
        CsvRow out(m_columns, m_file, number);
        const std::vector<std::string_view> fields = fields_of(line, out);
        if (fields.size() != m_order.size())
            throw out.error(
                fmt::format("{} fields, but the first line names {} columns", fields.size(), m_order.size()),
                "separate the fields by commas");
        for (std::size_t i = 0; i < fields.size(); ++i) {
            if (!fields[i].empty())
                out.m_fields[m_order[i]] = fields[i];
            else if (m_columns[m_order[i]].needed)
                throw out.error(fmt::format("{} is empty", m_columns[m_order[i]].name));
        }
        return out;
    }

private:
    [[nodiscard]] std::vector<std::string_view> names() const {
        std::vector<std::string_view> out;
        for (const CsvColumn& c : m_columns)
            out.push_back(c.name);
        return out;
    }

    [[nodiscard]] std::size_t column_named(std::string_view name, const CsvRow& at) const {
        for (std::size_t i = 0; i < m_columns.size(); ++i)
            if (m_columns[i].name == name)
                return i;
        const std::string near = nearest_name(name, names());
        throw at.error(fmt::format("there is no column \"{}\"", printable(name)),
                       near.empty() ? fmt::format("columns are {}", fmt::join(names(), ", "))
                                    : fmt::format("did you mean {}?", near));
    }

    [[nodiscard]] static std::vector<std::string_view> fields_of(std::string_view line, const CsvRow& at) {
        std::vector<std::string_view> out;
        while (true) {
            const auto comma = line.find(',');
            out.push_back(trimmed(line.substr(0, comma)));
            if (out.back().find('"') != std::string_view::npos)
                throw at.error("fields are not quoted", "leave the quotation marks out");
            if (comma == std::string_view::npos)
                return out;
            line.remove_prefix(comma + 1);
        }
    }

    std::string m_file;
    std::span<const CsvColumn> m_columns;
    std::vector<std::size_t> m_order;
};

std::vector<CsvRow> read_csv(std::string_view text, const std::string& file,
                             std::span<const CsvColumn> columns, std::size_t most,
                             std::string_view rows_are) {
    if (text.starts_with(byte_order_mark))
        text.remove_prefix(byte_order_mark.size());
    const std::string_view whole = text;
    CsvReader reader(file, columns);
    std::vector<CsvRow> out;
    for (int number = 1; !text.empty(); ++number) {
        const auto end = text.find('\n');
        std::string_view line = text.substr(0, end);
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        if (line.ends_with('\r'))
            line.remove_suffix(1);
        if (trimmed(line).empty())
            continue;
        if (!reader.has_header()) {
            try {
                reader.header(line, number);
            } catch (const Error&) {
                require_kind(kind_of_text(whole), file, DocumentKind::table);
                throw;
            }
            continue;
        }
        if (out.size() == most)
            throw Error(ErrorKind::limit, fmt::format("more than {} {}", most, rows_are), {},
                        {file, number, {}});
        out.push_back(reader.row(line, number));
    }
    return out;
}

std::string csv_cell(std::string_view text) {
    const std::string plain = (begins_like_a_formula(text) ? "'" : "") + printable(text);
    if (plain.find_first_of(",\"") == std::string::npos)
        return plain;
    std::string out = "\"";
    for (const char c : plain)
        out += c == '"' ? "\"\"" : std::string(1, c);
    return out + "\"";
}

}  // namespace loamway
