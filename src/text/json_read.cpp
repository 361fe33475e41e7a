// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <limits>
#include <nlohmann/json.hpp>
#include <utility>

#include "loamway/text/value.h"
#include "text_limits.h"

namespace loamway {

namespace {

/// The line of the byte read last. The library's lexer looks one byte beyond a number, which may be the
/// line's end: hence the line as it was before that byte.
struct LineCount {
    int next = 1;
    int of_last_byte = 1;
};

/// Hands the library one byte after the other and counts lines meanwhile: its SAX events carry no position.
class CountingIterator {
public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    CountingIterator(const char* at, LineCount* lines) : m_at(at), m_lines(lines) {}
    reference operator*() const { return *m_at; }
    CountingIterator& operator++() {
        m_lines->of_last_byte = m_lines->next;
        if (*m_at == '\n')
            ++m_lines->next;
        ++m_at;
        return *this;
    }
    CountingIterator operator++(int) {
        const CountingIterator before = *this;
        ++*this;
        return before;
    }
    friend bool operator==(const CountingIterator& a, const CountingIterator& b) { return a.m_at == b.m_at; }

private:
    const char* m_at;
    LineCount* m_lines;
};

/// Without the library's "[json.exception.parse_error.101] parse error at line 1, column 5: " before it.
std::string plain_reason(std::string_view what) {
    constexpr std::size_t longest = 160;
    const auto column = what.find("column ");
    const auto colon = column == std::string_view::npos ? column : what.find(": ", column);
    if (colon != std::string_view::npos)
        what.remove_prefix(colon + 2);
    else if (const auto bracket = what.find("] "); bracket != std::string_view::npos)
        what.remove_prefix(bracket + 2);
    if (what.size() > longest)
        return std::string(what.substr(0, longest)) + "...";
    return std::string(what);
}

class Builder {
public:
    Builder(const std::string& name, const TextLimits& limits, const LineCount& lines)
        : m_name(name), m_limits(limits), m_lines(lines) {}

    // The names and signatures of these events are the library's.
    bool null() { return add(Value()); }
    bool boolean(bool b) { return add(Value(b)); }
    bool number_integer(std::int64_t i) { return add(Value(i)); }
    bool number_unsigned(std::uint64_t u) {
        if (u > static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max()))
            return add(Value(static_cast<double>(u)));
        return add(Value(static_cast<std::int64_t>(u)));
    }
    bool number_float(double d, const std::string& token) {
        if (!std::isfinite(d))
            throw text_error(m_name, m_lines.of_last_byte, fmt::format("number {} is too large", token));
        return add(Value(d));
    }
    bool string(std::string& s) { return add(Value(std::move(s))); }
    bool binary(std::vector<std::uint8_t>&) {
        throw text_error(m_name, m_lines.of_last_byte, "binary values are not read");
    }
    bool start_object(std::size_t) { return open(Value(Value::Object{})); }
    bool start_array(std::size_t) { return open(Value(Value::Array{})); }
    bool key(std::string& k) {
        m_open.back().keys.emplace_back(k, m_lines.of_last_byte);
        return true;
    }
    bool end_object() {
        refuse_duplicates(m_open.back().keys);
        return close();
    }
    bool end_array() { return close(); }
    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception& e) {
        throw text_error(m_name, m_lines.of_last_byte, plain_reason(e.what()));
    }

    Value take() { return std::move(m_root); }

private:
    using Key = std::pair<std::string, int>;  // with its line
    struct Open {
        Value value;
        std::vector<Key> keys;  // empty for a list
    };

    bool open(Value v) {
        v.set_line(m_lines.of_last_byte);
        if (m_open.size() >= static_cast<std::size_t>(m_limits.depth))
            throw too_deep(m_name, v.line(), m_limits);
        m_open.push_back({std::move(v), {}});
        return true;
    }
    bool close() {
        Value done = std::move(m_open.back().value);
        m_open.pop_back();
        place(std::move(done));
        return true;
    }
    bool add(Value v) {
        v.set_line(m_lines.of_last_byte);
        place(std::move(v));
        return true;
    }
    void place(Value v) {
        if (m_open.empty()) {
            m_root = std::move(v);
        } else if (auto* list = m_open.back().value.as_array()) {
            list->push_back(std::move(v));
        } else {
            m_open.back().value.as_object()->emplace_back(m_open.back().keys.back().first, std::move(v));
        }
    }
    /// Sorted once at the end of the object, so that large objects do not cost the square of their size.
    void refuse_duplicates(std::vector<Key>& keys) const {
        std::stable_sort(keys.begin(), keys.end(),
                         [](const Key& a, const Key& b) { return a.first < b.first; });
        const Key* first = nullptr;
        for (std::size_t i = 1; i < keys.size(); ++i) {
            if (keys[i].first == keys[i - 1].first && (first == nullptr || keys[i].second < first->second))
                first = &keys[i];
        }
        if (first != nullptr)
            throw text_error(m_name, first->second, fmt::format("key \"{}\" is there twice", first->first),
                             "remove one");
    }

    const std::string& m_name;
    const TextLimits& m_limits;
    const LineCount& m_lines;
    std::vector<Open> m_open;
    Value m_root;
};

}  // namespace

Value parse_json(std::string_view text, const std::string& name, TextLimits limits) {
    check_size(text, name, limits);
    LineCount lines;
    Builder builder(name, limits, lines);
    nlohmann::json::sax_parse(CountingIterator(text.data(), &lines),
                              CountingIterator(text.data() + text.size(), &lines), &builder);
    return builder.take();
}

}  // namespace loamway
