// SPDX-License-Identifier: Apache-2.0
#include "json_reader.h"

#include <fmt/format.h>

#include <cmath>

#include "loamway/base/names.h"

namespace loamway {

namespace {

// Beyond any metre, second or sum of money of a move; small enough to be counted in integers.
constexpr double largest_figure = 1e9;

}  // namespace

JsonReader::JsonReader(const Value& value, const std::string& file, std::string path)
    : m_value(&value), m_file(&file), m_path(std::move(path)) {}

Error JsonReader::fault(std::string what, std::string what_to_do) const {
    ErrorPlace place{*m_file, {}, {}};
    if (m_value->line() > 0)
        place.line = m_value->line();
    const std::string subject = m_path.empty() ? std::string("the document") : fmt::format("\"{}\"", m_path);
    return Error(ErrorKind::input, fmt::format("{} {}", subject, what), std::move(what_to_do), place);
}

JsonReader JsonReader::at(std::string_view key) const {
    if (m_value->as_object() == nullptr)
        throw fault(fmt::format("is a {}, not a table", m_value->type_name()));
    const Value* member = m_value->find(key);
    if (member == nullptr)
        throw fault(fmt::format("lacks \"{}\"", key), "is this a plan written by loamway?");
    return {*member, *m_file, m_path.empty() ? std::string(key) : fmt::format("{}.{}", m_path, key)};
}

std::optional<JsonReader> JsonReader::maybe(std::string_view key) const {
    if (m_value->as_object() == nullptr)
        throw fault(fmt::format("is a {}, not a table", m_value->type_name()));
    const Value* member = m_value->find(key);
    if (member == nullptr || member->is_null())
        return std::nullopt;
    return at(key);
}

std::vector<JsonReader> JsonReader::items() const {
    const Value::Array* array = m_value->as_array();
    if (array == nullptr)
        throw fault(fmt::format("is a {}, not a list", m_value->type_name()));
    std::vector<JsonReader> out;
    out.reserve(array->size());
    for (const Value& v : *array)
        out.emplace_back(v, *m_file, fmt::format("{}[{}]", m_path, out.size()));
    return out;
}

std::vector<JsonReader> JsonReader::items(std::size_t exactly) const {
    std::vector<JsonReader> out = items();
    if (out.size() != exactly)
        throw fault(fmt::format("has {} entries, not {}", out.size(), exactly));
    return out;
}

double JsonReader::number() const {
    if (!m_value->is_number())
        throw fault(fmt::format("is a {}, not a number", m_value->type_name()));
    if (!(std::abs(m_value->number()) <= largest_figure))
        throw fault("is too large a number");
    return m_value->number();
}

std::int64_t JsonReader::integer() const {
    if (m_value->as_integer() == nullptr)
        throw fault("is not a whole number");
    return *m_value->as_integer();
}

bool JsonReader::truth() const {
    if (m_value->as_bool() == nullptr)
        throw fault("is not true or false");
    return *m_value->as_bool();
}

std::string JsonReader::text() const {
    if (m_value->is_null())
        return {};
    if (m_value->as_string() == nullptr)
        throw fault(fmt::format("is a {}, not a text", m_value->type_name()));
    return *m_value->as_string();
}

std::vector<std::string> JsonReader::texts() const {
    std::vector<std::string> out;
    for (const JsonReader& item : items())
        out.push_back(item.text());
    return out;
}

std::size_t JsonReader::word(std::span<const std::string_view> words) const {
    const std::string given = text();
    for (std::size_t i = 0; i < words.size(); ++i)
        if (words[i] == given)
            return i;
    const std::string near = nearest_name(given, words);
    throw fault(fmt::format("is \"{}\", a word this version does not know", printable(given)),
                near.empty() ? "" : fmt::format("did you mean \"{}\"?", near));
}

std::optional<double> JsonReader::maybe_number(std::string_view key) const {
    const std::optional<JsonReader> member = maybe(key);
    return member ? std::optional(member->number()) : std::nullopt;
}

std::optional<bool> JsonReader::maybe_truth(std::string_view key) const {
    const std::optional<JsonReader> member = maybe(key);
    return member ? std::optional(member->truth()) : std::nullopt;
}

}  // namespace loamway
