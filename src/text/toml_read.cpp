// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <utility>
#include <vector>

#include "loamway/text/value.h"
#include "text_limits.h"
#include "toml_depth.h"

namespace loamway {

namespace {

std::string date_text(const toml::date& d) {
    return fmt::format("{:04}-{:02}-{:02}", d.year, d.month, d.day);
}

std::string time_text(const toml::time& t) {
    std::string out = fmt::format("{:02}:{:02}:{:02}", t.hour, t.minute, t.second);
    if (t.nanosecond != 0) {
        std::string fraction = fmt::format("{:09}", t.nanosecond);
        fraction.erase(fraction.find_last_not_of('0') + 1);
        out += "." + fraction;
    }
    return out;
}

std::string date_time_text(const toml::date_time& d) {
    std::string out = date_text(d.date) + "T" + time_text(d.time);
    if (!d.offset)
        return out;
    const int minutes = d.offset->minutes;
    if (minutes == 0)
        return out + "Z";
    const int size = std::abs(minutes);
    return out + fmt::format("{}{:02}:{:02}", minutes < 0 ? '-' : '+', size / 60, size % 60);
}

int line_of(const toml::source_region& source) {
    return static_cast<int>(source.begin.line);
}

class Converter {
public:
    Converter(const std::string& name, const TextLimits& limits) : m_name(name), m_limits(limits) {}

    Value convert(const toml::node& node, int depth) const {
        Value out = value_of(node, depth);
        out.set_line(line_of(node.source()));
        return out;
    }

private:
    Value value_of(const toml::node& node, int depth) const {
        if (const auto* table = node.as_table())
            return table_of(*table, deeper(node, depth));
        if (const auto* list = node.as_array())
            return list_of(*list, deeper(node, depth));
        if (const auto* text = node.as_string())
            return {text->get()};
        if (const auto* whole = node.as_integer())
            return {static_cast<std::int64_t>(whole->get())};
        if (const auto* real = node.as_floating_point())
            return {finite(real->get(), node)};
        if (const auto* flag = node.as_boolean())
            return {flag->get()};
        if (const auto* day = node.as_date())
            return {date_text(day->get())};
        if (const auto* clock = node.as_time())
            return {time_text(clock->get())};
        if (const auto* both = node.as_date_time())
            return {date_time_text(both->get())};
        throw text_error(m_name, line_of(node.source()), "this kind of value is not read");
    }

    [[nodiscard]] int deeper(const toml::node& node, int depth) const {
        if (depth >= m_limits.depth)
            throw too_deep(m_name, line_of(node.source()), m_limits);
        return depth + 1;
    }
    [[nodiscard]] double finite(double d, const toml::node& node) const {
        if (!std::isfinite(d))
            throw text_error(m_name, line_of(node.source()), "a number must be finite", "not nan or inf");
        return d;
    }

    /// The library sorts keys by name; here they stand again as they were written.
    Value table_of(const toml::table& table, int depth) const {
        std::vector<std::pair<const toml::key*, const toml::node*>> members;
        members.reserve(table.size());
        for (const auto& [key, node] : table)
            members.emplace_back(&key, &node);
        std::stable_sort(members.begin(), members.end(), [](const auto& a, const auto& b) {
            const auto& p = a.first->source().begin;
            const auto& q = b.first->source().begin;
            return p.line != q.line ? p.line < q.line : p.column < q.column;
        });
        Value::Object out;
        out.reserve(members.size());
        for (const auto& [key, node] : members)
            out.emplace_back(std::string(key->str()), convert(*node, depth));
        return {std::move(out)};
    }

    Value list_of(const toml::array& list, int depth) const {
        Value::Array out;
        out.reserve(list.size());
        for (const toml::node& node : list)
            out.push_back(convert(node, depth));
        return {std::move(out)};
    }

    const std::string& m_name;
    const TextLimits& m_limits;
};

}  // namespace

Value parse_toml(std::string_view text, const std::string& name, TextLimits limits) {
    check_size(text, name, limits);
    if (const int line = first_too_deep_line(text, limits.depth); line > 0)
        throw too_deep(name, line, limits);
    try {
        const toml::table document = toml::parse(text, name);
        return Converter(name, limits).convert(document, 0);
    } catch (const toml::parse_error& e) {
        throw text_error(name, line_of(e.source()), std::string(e.description()));
    }
}

}  // namespace loamway
