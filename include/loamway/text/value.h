// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TEXT_VALUE_H
#define LOAMWAY_TEXT_VALUE_H

// A tree of values as read from JSON or TOML, each with the line it came from. Objects keep the order of
// their keys. Reading is strict (UTF-8, no duplicate keys, no NaN or infinity) and limited in size and
// depth; every fault is an input Error with file and line, except a document beyond the size limit: a limit
// Error.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace loamway {

class Value {
public:
    using Array = std::vector<Value>;
    using Object = std::vector<std::pair<std::string, Value>>;

    Value() = default;  // null
    Value(std::nullptr_t) {}
    Value(bool b) : m_data(b) {}
    Value(int i) : m_data(static_cast<std::int64_t>(i)) {}
    Value(std::int64_t i) : m_data(i) {}
    Value(double d) : m_data(d) {}
    Value(const char* s) : m_data(std::string(s)) {}
    Value(std::string s) : m_data(std::move(s)) {}
    Value(std::string_view s) : m_data(std::string(s)) {}
    Value(Array a) : m_data(std::move(a)) {}
    Value(Object o) : m_data(std::move(o)) {}

    [[nodiscard]] bool is_null() const { return std::holds_alternative<std::monostate>(m_data); }
    [[nodiscard]] const bool* as_bool() const { return std::get_if<bool>(&m_data); }
    [[nodiscard]] const std::int64_t* as_integer() const { return std::get_if<std::int64_t>(&m_data); }
    [[nodiscard]] const double* as_double() const { return std::get_if<double>(&m_data); }
    [[nodiscard]] bool is_number() const { return as_integer() != nullptr || as_double() != nullptr; }
    /// Any number as double; requires is_number().
    [[nodiscard]] double number() const;
    [[nodiscard]] const std::string* as_string() const { return std::get_if<std::string>(&m_data); }
    [[nodiscard]] const Array* as_array() const { return std::get_if<Array>(&m_data); }
    [[nodiscard]] Array* as_array() { return std::get_if<Array>(&m_data); }
    [[nodiscard]] const Object* as_object() const { return std::get_if<Object>(&m_data); }
    [[nodiscard]] Object* as_object() { return std::get_if<Object>(&m_data); }
    /// Member of an object, or nullptr.
    [[nodiscard]] const Value* find(std::string_view key) const;
    /// Appends to an object (made from null on first use); the key must not be there yet.
    Value& set(std::string key, Value v);
    /// "null", "true or false", "number", "text", "list", "table": for messages.
    [[nodiscard]] std::string_view type_name() const;

    [[nodiscard]] int line() const { return m_line; }  // 0 when unknown
    void set_line(int line) { m_line = line; }

private:
    std::variant<std::monostate, bool, std::int64_t, double, std::string, Array, Object> m_data;
    int m_line = 0;
};

struct TextLimits {
    std::size_t bytes = std::size_t{64} << 20;
    int depth = 64;  // lists and tables within each other; in TOML every dot of a key counts too
};

/// `name` is what messages call the document. Whole numbers beyond 64 bits become the nearest double.
[[nodiscard]] Value parse_json(std::string_view text, const std::string& name, TextLimits limits = {});
/// TOML 1.0. Dates and times become text in RFC 3339 form.
[[nodiscard]] Value parse_toml(std::string_view text, const std::string& name, TextLimits limits = {});
/// Shortest text that reads back to the same doubles (5.0 is written 5); UTF-8, controls and marks of
/// direction as numbers; no newline at the end. Internal Error for NaN or infinity; bytes that are no UTF-8
/// become U+FFFD. indent < 0: one line. Short arrays of numbers stay on one line.
[[nodiscard]] std::string to_json(const Value& value, int indent = -1);

}  // namespace loamway

#endif
