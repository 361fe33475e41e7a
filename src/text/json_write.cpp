// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {

// A list of numbers stays on one line up to this many.
constexpr std::size_t short_list = 16;

struct Hidden {
    unsigned code_point;
    std::size_t bytes;
};

/// A character that a terminal would obey rather than show, or that reorders a line: it is written as its
/// number, which reads back the same. (Controls of one byte are seen to by the writer.)
std::optional<Hidden> hidden_at(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) {
        return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0u;
    };
    if (byte(0) == 0xC2 && byte(1) < 0xA0)
        return Hidden{byte(1), 2};
    if (byte(0) == 0xD8 && byte(1) == 0x9C)
        return Hidden{0x061C, 2};
    if (byte(0) != 0xE2 && byte(0) != 0xEF)
        return std::nullopt;
    const unsigned c = ((byte(0) & 0x0Fu) << 12u) | ((byte(1) & 0x3Fu) << 6u) | (byte(2) & 0x3Fu);
    const bool mark =
        (c >= 0x200E && c <= 0x200F) || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
    const bool none = (c >= 0xFDD0 && c <= 0xFDEF) || c >= 0xFFFE;  // no characters at all
    return mark || none || c == 0xFEFF ? std::optional(Hidden{c, 3}) : std::nullopt;
}

class Writer {
public:
    explicit Writer(int indent) : m_indent(indent) {}

    void write(const Value& v, int depth) {
        if (v.is_null())
            m_out += "null";
        else if (const bool* b = v.as_bool())
            m_out += *b ? "true" : "false";
        else if (const auto* i = v.as_integer())
            m_out += fmt::format("{}", *i);
        else if (const double* d = v.as_double())
            write_double(*d);
        else if (const auto* s = v.as_string())
            write_string(*s);
        else if (const auto* a = v.as_array())
            write_array(*a, depth);
        else if (const auto* o = v.as_object())
            write_object(*o, depth);
    }
    [[nodiscard]] std::string take() { return std::move(m_out); }

private:
    void write_double(double d) {
        if (!std::isfinite(d))
            throw Error(ErrorKind::internal, "a result is no finite number and cannot be written");
        if (d == 0.0 && std::signbit(d)) {
            m_out += "-0.0";  // "-0" would be read back as the integer 0
            return;
        }
        std::array<char, 32> buffer{};
        const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), d).ptr;
        m_out.append(buffer.data(), end);
    }

    void write_string(const std::string& raw) {
        m_out += '"';
        const std::string text = valid_utf8(raw);
        for (std::size_t i = 0; i < text.size(); ++i) {
            const char c = text[i];
            if (const auto hidden = hidden_at(text, i)) {
                m_out += fmt::format("\\u{:04x}", hidden->code_point);
                i += hidden->bytes - 1;
            } else if (c == '"' || c == '\\') {
                m_out += '\\';
                m_out += c;
            } else if (c == '\n') {
                m_out += "\\n";
            } else if (c == '\r') {
                m_out += "\\r";
            } else if (c == '\t') {
                m_out += "\\t";
            } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) {
                m_out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
            } else {
                m_out += c;
            }
        }
        m_out += '"';
    }

    void write_array(const Value::Array& list, int depth) {
        const bool plain =
            std::all_of(list.begin(), list.end(), [](const Value& v) { return v.is_number(); });
        const bool one_line = m_indent < 0 || list.empty() || (plain && list.size() <= short_list);
        m_out += '[';
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (i > 0)
                m_out += one_line && m_indent >= 0 ? ", " : ",";
            if (!one_line)
                new_line(depth + 1);
            write(list[i], depth + 1);
        }
        if (!one_line)
            new_line(depth);
        m_out += ']';
    }

    void write_object(const Value::Object& object, int depth) {
        m_out += '{';
        bool first = true;
        for (const auto& [key, value] : object) {
            if (!first)
                m_out += ',';
            first = false;
            if (m_indent >= 0)
                new_line(depth + 1);
            write_string(key);
            m_out += m_indent >= 0 ? ": " : ":";
            write(value, depth + 1);
        }
        if (m_indent >= 0 && !object.empty())
            new_line(depth);
        m_out += '}';
    }

    void new_line(int depth) {
        m_out += '\n';
        m_out.append(static_cast<std::size_t>(depth) * static_cast<std::size_t>(m_indent), ' ');
    }

    int m_indent;
    std::string m_out;
};

}  // namespace

std::string to_json(const Value& value, int indent) {
    Writer writer(indent);
    writer.write(value, 0);
    return writer.take();
}

}  // namespace loamway
