// SPDX-License-Identifier: Apache-2.0
#include "line_source.h"

#include <fmt/format.h>

#include "loamway/base/error.h"
#include "loamway/text/value.h"

namespace loamway {

namespace {
constexpr std::size_t largest_answer = std::size_t{256} << 20;
}

std::string id_in(std::string_view line) {
    try {
        const Value v = parse_json(line, "line", {.bytes = largest_answer});
        const Value* id = v.find("id");
        // An answer carries no other ids than these.
        const bool named = id != nullptr && (id->as_string() != nullptr || id->as_integer() != nullptr);
        return named ? to_json(*id) : "null";
    } catch (const Error&) {
        return "null";
    }
}

std::optional<BatchLine> LineSource::next() {
    while (std::optional<std::string> text = m_read()) {
        ++m_lines;
        if (text->find_first_not_of(" \t\r") == std::string::npos)
            continue;
        if (m_moves == 0)
            m_first = *text;
        if (m_moves++ % m_setup.shards + 1 != m_setup.shard)
            continue;
        if (m_passed >= m_setup.done.lines)
            return BatchLine{m_lines, std::move(*text)};
        if (++m_passed == m_setup.done.lines)
            require_same_move(*text);
    }
    if (m_passed < m_setup.done.lines)
        throw Error(
            ErrorKind::input,
            fmt::format("the output answers {} moves, the input has {}", m_setup.done.lines, m_passed),
            "resume with the moves it was begun with");
    return std::nullopt;
}

void LineSource::require_same_move(const std::string& line) const {
    if (id_in(line) == id_in(m_setup.done.last))
        return;
    throw Error(ErrorKind::input,
                fmt::format("line {} has the id {}, the output answers {} there", m_lines, id_in(line),
                            id_in(m_setup.done.last)),
                "resume with the moves, and the shard, it was begun with");
}

}  // namespace loamway
