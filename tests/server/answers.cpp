// SPDX-License-Identifier: Apache-2.0
#include "answers.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <stdexcept>

namespace loamway::server_fuzz {

namespace {

constexpr std::string_view start = "HTTP/1.1 ";
constexpr std::string_view head_end = "\r\n\r\n";
constexpr std::string_view guards[] = {"\r\nContent-Security-Policy: default-src 'none'; ",
                                       "\r\nX-Content-Type-Options: nosniff\r\n",
                                       "\r\nReferrer-Policy: no-referrer\r\n",
                                       "\r\nCross-Origin-Resource-Policy: same-origin\r\n",
                                       "\r\nCross-Origin-Opener-Policy: same-origin\r\n",
                                       "\r\nCache-Control: "};

std::runtime_error broken(const char* what, std::string_view bytes) {
    return std::runtime_error(std::string(what) + ": " + std::string(bytes.substr(0, 600)));
}

int number(std::string_view text) {
    int out = -1;
    std::from_chars(text.data(), text.data() + text.size(), out);
    return out;
}

std::optional<std::string_view> header(std::string_view head, std::string_view name) {
    const std::string wanted = "\r\n" + std::string(name) + ": ";
    const std::size_t at = head.find(wanted);
    if (at == std::string_view::npos)
        return std::nullopt;
    const std::string_view rest = head.substr(at + wanted.size());
    return rest.substr(0, rest.find("\r\n"));
}

/// How many bytes the body takes; none when it is not there to its end.
std::optional<std::size_t> body_length(int status, std::string_view head, std::string_view rest) {
    if (status == 204 || status == 304 || rest.starts_with(start))
        return 0;
    if (const auto length = header(head, "Content-Length")) {
        const auto n = static_cast<std::size_t>(number(*length));
        if (rest.empty())
            return 0;  // of HEAD, or cut: nobody can tell
        return n <= rest.size() ? std::optional(n) : std::nullopt;
    }
    const std::size_t end = rest.find("0\r\n\r\n");
    return end == std::string_view::npos ? std::nullopt : std::optional(end + 5);
}

void check(int status, std::string_view head, std::string_view body) {
    for (const std::string_view guard : guards)
        if (head.find(guard) == std::string_view::npos)
            throw broken("a guard is missing", head);
    if (status == 500 || status < 200 || status > 503)
        throw broken("a status that no request may cause", std::string(head) + std::string(body));
    const bool whole_error = body.starts_with("{\"error\":{\"kind\":") && body.ends_with("}}\n") &&
                             std::count(body.begin(), body.end(), '\n') == 1;
    if (status >= 400 && !body.empty() && !whole_error)
        throw broken("an error that is not one line", body);
}

}  // namespace

std::vector<int> judged(std::string_view bytes) {
    std::vector<int> out;
    while (!bytes.empty()) {
        const std::size_t end = bytes.find(head_end);
        if (!bytes.starts_with(start.substr(0, bytes.size())))
            throw broken("no answer", bytes);
        if (end == std::string_view::npos)
            return out;
        const std::string_view head = bytes.substr(0, end + head_end.size());
        const int status = number(bytes.substr(start.size(), 3));
        bytes.remove_prefix(head.size());
        if (status == 100)
            continue;
        const auto length = body_length(status, head, bytes);
        if (!length)
            return out;
        check(status, head, bytes.substr(0, *length));
        bytes.remove_prefix(*length);
        out.push_back(status);
    }
    return out;
}

bool holds_one(std::string_view bytes) {
    const std::size_t end = bytes.find(head_end);
    if (end == std::string_view::npos)
        return false;
    const std::string_view head = bytes.substr(0, end + head_end.size());
    const std::string_view rest = bytes.substr(head.size());
    const auto length = header(head, "Content-Length");
    const int status = number(bytes.substr(start.size(), 3));
    if (length && status != 304 && number(*length) > 0 && rest.empty())
        return false;
    return body_length(status, head, rest).has_value();
}

}  // namespace loamway::server_fuzz
