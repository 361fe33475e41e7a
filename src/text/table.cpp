// SPDX-License-Identifier: Apache-2.0
#include "loamway/text/table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "loamway/base/names.h"

namespace loamway {

namespace {

std::string joined(const std::string& path, std::string_view key) {
    return path.empty() ? std::string(key) : fmt::format("{}.{}", path, key);
}

bool inside(double v, Range range) {
    return v >= range.low && v <= range.high;
}

/// " is outside 1..100000", with one bound left out when it is infinite.
std::string outside_words(Range range) {
    if (std::isinf(range.high))
        return fmt::format("is below {}", range.low);
    if (std::isinf(range.low))
        return fmt::format("is above {}", range.high);
    return fmt::format("is outside {}..{}", range.low, range.high);
}

/// A whole number that fits, from 3 as well as from 3.0.
std::optional<std::int64_t> whole(const Value& v) {
    if (const auto* i = v.as_integer())
        return *i;
    const double* d = v.as_double();
    constexpr double exact = 9007199254740992.0;  // 2^53: whole doubles beyond may stand for several integers
    if (d == nullptr || std::abs(*d) > exact || std::trunc(*d) != *d)
        return std::nullopt;
    return static_cast<std::int64_t>(*d);
}

std::string shown(const Value& v) {
    if (const auto* i = v.as_integer())
        return fmt::format("{}", *i);
    return fmt::format("{}", v.number());
}

std::string quoted_list(const std::vector<std::string_view>& words) {
    std::string out;
    for (const auto word : words)
        out += fmt::format("{}\"{}\"", out.empty() ? "" : ", ", word);
    return out;
}

Error place_error(const std::string& document, int line, std::string item, std::string what,
                  std::string what_to_do) {
    ErrorPlace place{document, {}, std::move(item)};
    if (line > 0)
        place.line = line;
    return {ErrorKind::input, std::move(what), std::move(what_to_do), std::move(place)};
}

/// Checks single values; knows where they stand for the message.
struct Checker {
    const std::string& document;
    std::string name;  // dotted

    [[nodiscard]] Error wrong(const Value& v, std::string what, std::string what_to_do = {}) const {
        return place_error(document, v.line(), name, name + " " + std::move(what), std::move(what_to_do));
    }
    [[nodiscard]] double number(const Value& v, Range range) const {
        if (!v.is_number())
            throw wrong(v, fmt::format("is {}, not a number", article(v)),
                        v.as_string() != nullptr ? "write it without quotes" : "");
        if (!inside(v.number(), range))
            throw place_error(document, v.line(), name,
                              fmt::format("{} = {} {}", name, shown(v), outside_words(range)), {});
        return v.number() + 0.0;  // never "-0": nobody means it, and it would be printed
    }
    [[nodiscard]] const std::string& text(const Value& v) const {
        if (const auto* s = v.as_string())
            return *s;
        throw wrong(v, fmt::format("is {}, not text", article(v)), "write it in quotes");
    }
    [[nodiscard]] const Value::Array& list(const Value& v) const {
        if (const auto* a = v.as_array())
            return *a;
        throw wrong(v, fmt::format("is {}, not a list", article(v)), "write it as [a, b, ...]");
    }
    [[nodiscard]] static std::string article(const Value& v) {
        const auto type = v.type_name();
        const bool counted = type == "number" || type == "list" || type == "table";
        return fmt::format("{}{}", counted ? "a " : "", type);
    }
};

}  // namespace

Table::Table(const Value& value, std::string document, std::string path)
    : m_value(&value), m_document(std::move(document)), m_path(std::move(path)) {
    if (value.as_object() == nullptr) {
        const std::string name = m_path.empty() ? "the document" : m_path;
        throw place_error(m_document, value.line(), m_path,
                          fmt::format("{} is {}, not a table", name, Checker::article(value)), {});
    }
}

bool Table::has(std::string_view key) const {
    const Value* v = m_value->find(key);
    return v != nullptr && !v->is_null();
}

const Value* Table::take(std::string_view key) {
    if (std::find(m_known.begin(), m_known.end(), key) == m_known.end())
        m_known.emplace_back(key);
    return has(key) ? m_value->find(key) : nullptr;
}

const Value* Table::value(std::string_view key) {
    static_cast<void>(take(key));
    return m_value->find(key);
}

std::optional<double> Table::number(std::string_view key, Range range) {
    const Value* v = take(key);
    if (v == nullptr)
        return std::nullopt;
    return Checker{m_document, joined(m_path, key)}.number(*v, range);
}

double Table::number_or(std::string_view key, double fallback, Range range) {
    return number(key, range).value_or(fallback);
}

double Table::require_number(std::string_view key, Range range) {
    if (const auto v = number(key, range))
        return *v;
    throw error_at(key, fmt::format("{} is missing", joined(m_path, key)),
                   fmt::format("add {} = NUMBER", key));
}

std::optional<std::int64_t> Table::integer(std::string_view key, Range range) {
    const Value* v = take(key);
    if (v == nullptr)
        return std::nullopt;
    const Checker check{m_document, joined(m_path, key)};
    static_cast<void>(check.number(*v, range));
    if (const auto i = whole(*v))
        return i;
    throw place_error(m_document, v->line(), check.name,
                      fmt::format("{} = {} is not a whole number", check.name, shown(*v)), {});
}

std::optional<bool> Table::boolean(std::string_view key) {
    const Value* v = take(key);
    if (v == nullptr)
        return std::nullopt;
    if (const bool* b = v->as_bool())
        return *b;
    throw Checker{m_document, joined(m_path, key)}.wrong(
        *v, fmt::format("is {}, not true or false", Checker::article(*v)),
        "write true or false without quotes");
}

std::optional<std::string> Table::text(std::string_view key) {
    const Value* v = take(key);
    if (v == nullptr)
        return std::nullopt;
    return Checker{m_document, joined(m_path, key)}.text(*v);
}

std::string Table::require_text(std::string_view key) {
    if (auto v = text(key))
        return *std::move(v);
    throw error_at(key, fmt::format("{} is missing", joined(m_path, key)),
                   fmt::format("add {} = \"...\"", key));
}

std::optional<std::size_t> Table::word(std::string_view key, const std::vector<std::string_view>& words) {
    const auto given = text(key);
    if (!given)
        return std::nullopt;
    const auto found = std::find(words.begin(), words.end(), *given);
    if (found != words.end())
        return static_cast<std::size_t>(found - words.begin());
    const std::string near = nearest_name(*given, words);
    throw error_at(
        key, fmt::format("{} = \"{}\" is not known", joined(m_path, key), *given),
        near.empty() ? "write one of " + quoted_list(words) : fmt::format("did you mean \"{}\"?", near));
}

std::optional<std::vector<double>> Table::numbers(std::string_view key, Range each) {
    const Value* v = take(key);
    if (v == nullptr)
        return std::nullopt;
    const Checker check{m_document, joined(m_path, key)};
    std::vector<double> out;
    for (const Value& element : check.list(*v)) {
        const Checker one{m_document, fmt::format("{}[{}]", check.name, out.size() + 1)};
        out.push_back(one.number(element, each));
    }
    return out;
}

std::optional<std::vector<std::string>> Table::texts(std::string_view key) {
    const Value* v = take(key);
    if (v == nullptr)
        return std::nullopt;
    const Checker check{m_document, joined(m_path, key)};
    std::vector<std::string> out;
    for (const Value& element : check.list(*v)) {
        const Checker one{m_document, fmt::format("{}[{}]", check.name, out.size() + 1)};
        out.push_back(one.text(element));
    }
    return out;
}

std::optional<Table> Table::table(std::string_view key) {
    const Value* v = take(key);
    if (v == nullptr)
        return std::nullopt;
    return Table(*v, m_document, joined(m_path, key));
}

std::vector<Table> Table::tables(std::string_view key) {
    std::vector<Table> out;
    const Value* v = take(key);
    if (v == nullptr)
        return out;
    const std::string name = joined(m_path, key);
    for (const Value& element : Checker{m_document, name}.list(*v))
        out.emplace_back(element, m_document, fmt::format("{}[{}]", name, out.size() + 1));
    return out;
}

void Table::finish() const {
    for (const auto& [key, v] : *m_value->as_object()) {
        if (std::find(m_known.begin(), m_known.end(), key) != m_known.end())
            continue;
        const std::vector<std::string_view> known(m_known.begin(), m_known.end());
        const std::string near = nearest_name(key, known);
        const std::string where = m_path.empty() ? "" : fmt::format(" in {}", m_path);
        throw error_at(
            key, fmt::format("unknown key \"{}\"{}", key, where),
            near.empty() ? "known here: " + quoted_list(known) : fmt::format("did you mean \"{}\"?", near));
    }
}

Error Table::error_at(std::string_view key, std::string what, std::string what_to_do) const {
    const Value* v = m_value->find(key);
    return place_error(m_document, v != nullptr ? v->line() : m_value->line(), joined(m_path, key),
                       std::move(what), std::move(what_to_do));
}

}  // namespace loamway
