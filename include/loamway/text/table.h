// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TEXT_TABLE_H
#define LOAMWAY_TEXT_TABLE_H

// Reads a table (TOML table or JSON object) key by key and then complains about any key nobody asked for,
// naming the nearest known one. Every fault is an input Error "FILE:LINE: ...". A key whose value is null
// (JSON only) counts as absent. Elements of lists are counted from 1 in messages: state[1].mass_kg.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {

/// Inclusive range a number must lie in.
struct Range {
    double low;
    double high;
};

class Table {
public:
    /// `value` must outlive the Table. `path` is the dotted name in messages, empty at the top.
    Table(const Value& value, std::string document, std::string path = {});

    [[nodiscard]] bool has(std::string_view key) const;
    [[nodiscard]] std::optional<double> number(std::string_view key, Range range);
    [[nodiscard]] double number_or(std::string_view key, double fallback, Range range);
    [[nodiscard]] double require_number(std::string_view key, Range range);
    [[nodiscard]] std::optional<std::int64_t> integer(std::string_view key, Range range);
    [[nodiscard]] std::optional<bool> boolean(std::string_view key);
    [[nodiscard]] std::optional<std::string> text(std::string_view key);
    [[nodiscard]] std::string require_text(std::string_view key);
    /// One of `words`, by index; a wrong word names the nearest.
    [[nodiscard]] std::optional<std::size_t> word(std::string_view key,
                                                  const std::vector<std::string_view>& words);
    [[nodiscard]] std::optional<std::vector<double>> numbers(std::string_view key, Range each);
    [[nodiscard]] std::optional<std::vector<std::string>> texts(std::string_view key);
    /// A nested table / list of tables; finish() of the parent does not check inside them.
    [[nodiscard]] std::optional<Table> table(std::string_view key);
    [[nodiscard]] std::vector<Table> tables(std::string_view key);
    /// The raw value, marked as read.
    [[nodiscard]] const Value* value(std::string_view key);

    /// Input Error for the first key nobody read.
    void finish() const;
    /// An input Error placed at `key` (or at the table when the key is absent).
    [[nodiscard]] Error error_at(std::string_view key, std::string what, std::string what_to_do = {}) const;
    [[nodiscard]] const std::string& document() const { return m_document; }
    [[nodiscard]] const std::string& path() const { return m_path; }
    [[nodiscard]] int line() const { return m_value->line(); }

private:
    [[nodiscard]] const Value* take(std::string_view key);
    const Value* m_value;
    std::string m_document;
    std::string m_path;
    std::vector<std::string> m_known;  // every key asked for
};

}  // namespace loamway

#endif
