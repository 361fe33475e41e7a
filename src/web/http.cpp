// SPDX-License-Identifier: Apache-2.0
#include "http.h"

#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/names.h"
#include "loamway/base/percent.h"
#include "loamway/text/value.h"

namespace loamway {

std::string_view HttpRequest::header(std::string_view lower_name) const {
    for (const auto& [name, value] : headers)
        if (name == lower_name)
            return value;
    return {};
}

std::string_view HttpRequest::parameter(const std::string& name) const {
    const auto found = query.find(name);
    return found == query.end() ? std::string_view() : std::string_view(found->second);
}

std::optional<std::map<std::string, std::string>> parsed_query(std::string_view text) {
    std::map<std::string, std::string> out;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('&'), text.size());
        const std::string_view piece = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (piece.empty())
            continue;
        const std::size_t equals = std::min(piece.find('='), piece.size());
        const auto name = percent_decoded(piece.substr(0, equals), true);
        const auto value = percent_decoded(piece.substr(std::min(equals + 1, piece.size())), true);
        if (!name || !value)
            return std::nullopt;
        out[*name] = *value;
    }
    return out;
}

int http_status(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::input:
            return 400;
        case ErrorKind::not_found:
            return 404;
        case ErrorKind::no_route:
            return 422;
        case ErrorKind::limit:
            return 413;
        case ErrorKind::damaged:
            return 500;
        case ErrorKind::io:
            return 503;
        case ErrorKind::internal:
            return 500;
    }
    return 500;
}

HttpReply error_reply(int status, std::string_view kind, std::string_view message,
                      std::string_view what_to_do, std::string_view item) {
    Value inner;
    inner.set("kind", kind);
    inner.set("message", valid_utf8(message));
    inner.set("what_to_do", valid_utf8(what_to_do));
    inner.set("item", valid_utf8(item));
    Value outer;
    outer.set("error", std::move(inner));
    return {.status = status, .body = to_json(outer) + "\n"};
}

HttpReply error_reply(const Error& e) {
    return error_reply(http_status(e.kind()), error_kind_name(e.kind()), e.message(), e.what_to_do(),
                       e.place().item);
}

HttpReply method_not_allowed(std::string_view allowed) {
    HttpReply reply = error_reply(405, "input", "this address does not take that method",
                                  fmt::format("it takes {}", allowed));
    reply.headers.emplace_back("Allow", allowed);
    return reply;
}

}  // namespace loamway
