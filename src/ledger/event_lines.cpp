// SPDX-License-Identifier: Apache-2.0
#include "loamway/ledger/event_lines.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/error.h"
#include "loamway/text/document_kind.h"

namespace loamway {

std::vector<Event> parse_event_lines(std::string_view text, const std::string& file) {
    const std::string_view whole = text;
    std::vector<Event> out;
    for (int line = 1; !text.empty(); ++line) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view one = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (one.find_first_not_of(" \t\r") == std::string_view::npos)
            continue;
        try {
            Event e = event_from_value(parse_json(one, file), file);
            if (e.token.empty())
                e.token = fmt::format("import {} {}", e.id, format_rfc3339(e.noted, TimeZone()));
            out.push_back(std::move(e));
        } catch (const Error& e) {
            if (out.empty())
                require_kind(kind_of_text(whole), file, DocumentKind::events);
            throw Error(e.kind(), e.message(), e.what_to_do(), {file, line, e.place().item});
        }
    }
    return out;
}

}  // namespace loamway
