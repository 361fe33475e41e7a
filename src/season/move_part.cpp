// SPDX-License-Identifier: Apache-2.0
#include "move_part.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "loamway/desk/day_window.h"

namespace loamway {

namespace {

bool among(std::span<const std::string_view> keys, std::string_view key) {
    return std::find(keys.begin(), keys.end(), key) != keys.end();
}

}  // namespace

Value move_part(const Value& document, const std::string& file, std::span<const std::string_view> own,
                std::span<const std::string_view> refused, const std::string& where,
                const std::string& instead) {
    Value out{Value::Object{}};
    out.set_line(document.line());
    for (const auto& [key, value] : *document.as_object()) {
        if (among(own, key))
            continue;
        if (among(refused, key))
            throw Error(ErrorKind::input, fmt::format("{} belongs to one move, not to {}", key, where),
                        instead, {file, value.line() > 0 ? std::optional(value.line()) : std::nullopt, key});
        out.set(key, value);
    }
    return out;
}

MoveRequest read_move_part(const Value& part, const std::string& file,
                           std::span<const std::string_view> own) {
    try {
        return read_move(part, file);
    } catch (const Error& e) {
        if (!e.what_to_do().starts_with("did you mean") && e.message().starts_with("unknown key")) {
            const std::size_t first = e.message().find('"') + 1;
            const std::string key = e.message().substr(first, e.message().rfind('"') - first);
            if (const std::string near = nearest_name(key, own); !near.empty())
                throw Error(e.kind(), e.message(), fmt::format("did you mean \"{}\"?", near), e.place());
        }
        throw;
    }
}

void read_work_hours(Table& t, int& from_min, int& to_min) {
    const auto text = t.text("work_hours");
    if (!text)
        return;
    try {
        const WhenWindow window = parse_window(*text);
        from_min = window.from_min;
        to_min = window.to_min;
    } catch (const Error& e) {
        throw t.error_at("work_hours", e.message(), e.what_to_do());
    }
    if (to_min <= from_min)
        throw t.error_at("work_hours", "work_hours end before they begin", "write them as in 06:00-20:00");
}

}  // namespace loamway
