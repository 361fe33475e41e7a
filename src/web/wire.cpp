// SPDX-License-Identifier: Apache-2.0
#include "wire.h"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <algorithm>

#include "loamway/base/names.h"
#include "loamway/base/percent.h"
#include "page_files.h"
#include "security.h"

namespace loamway {

namespace {

std::string_view reason(int status) {
    switch (status) {
        case 200:
            return "OK";
        case 201:
            return "Created";
        case 204:
            return "No Content";
        case 304:
            return "Not Modified";
        case 400:
            return "Bad Request";
        case 401:
            return "Unauthorized";
        case 403:
            return "Forbidden";
        case 404:
            return "Not Found";
        case 405:
            return "Method Not Allowed";
        case 408:
            return "Request Timeout";
        case 413:
            return "Content Too Large";
        case 415:
            return "Unsupported Media Type";
        case 422:
            return "Unprocessable Content";
        case 429:
            return "Too Many Requests";
        case 431:
            return "Request Header Fields Too Large";
        case 500:
            return "Internal Server Error";
        case 503:
            return "Service Unavailable";
        default:
            return "Other";
    }
}

bool is_control(char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
}

void add_header(std::string& out, std::string_view name, std::string_view value) {
    out += name;
    out += ": ";
    std::copy_if(value.begin(), value.end(), std::back_inserter(out), [](char c) { return !is_control(c); });
    out += "\r\n";
}

/// A piece that would climb or stand still; "..." is a name.
bool has_dot_piece(std::string_view path) {
    while (!path.empty()) {
        path.remove_prefix(1);
        const std::string_view piece = path.substr(0, path.find('/'));
        if (piece == "." || piece == "..")
            return true;
        path.remove_prefix(piece.size());
    }
    return false;
}

bool names_header(const HttpReply& reply, std::string_view lower_name) {
    return std::any_of(reply.headers.begin(), reply.headers.end(),
                       [&](const auto& h) { return ascii_lower(h.first) == lower_name; });
}

}  // namespace

std::optional<HttpReply> read_target(std::string_view target, HttpRequest& request) {
    const auto wrong = [] { return error_reply(400, "input", "the request's address cannot be read"); };
    if (!target.starts_with('/') || target.find('#') != std::string_view::npos)
        return wrong();
    const std::size_t mark = std::min(target.find('?'), target.size());
    const auto path = percent_decoded(target.substr(0, mark));
    auto query = parsed_query(target.substr(std::min(mark + 1, target.size())));
    if (!path || !query || !is_utf8(*path) || std::any_of(path->begin(), path->end(), is_control) ||
        path->find('\\') != std::string::npos || has_dot_piece(*path))
        return wrong();
    for (const auto& [name, value] : *query)
        if (!is_utf8(name) || !is_utf8(value) || value.find('\0') != std::string::npos)
            return wrong();
    request.path = *path;
    request.query = std::move(*query);
    return std::nullopt;
}

std::string reply_head(const HttpReply& reply, BodyLength length, WireManner manner) {
    std::string out = fmt::format("HTTP/1.1 {} {}\r\n", reply.status, reason(reply.status));
    const bool has_body = reply.status != 204 && reply.status != 304;
    if (has_body)
        add_header(out, "Content-Type", reply.content_type);
    if (has_body && length)
        add_header(out, "Content-Length", std::to_string(*length));
    if (manner.chunked)
        add_header(out, "Transfer-Encoding", "chunked");
    add_header(out, "Connection", manner.keep_alive ? "keep-alive" : "close");
    for (const auto& [name, value] : security_headers())
        add_header(out, name, value);
    if (!names_header(reply, "cache-control"))
        add_header(out, "Cache-Control", "no-store");
    for (const auto& [name, value] : reply.headers)
        add_header(out, name, value);
    return out + "\r\n";
}

std::string chunk(std::string_view piece) {
    return piece.empty() ? std::string() : fmt::format("{:x}\r\n{}\r\n", piece.size(), piece);
}

std::string access_line(const AccessEntry& entry) {
    const auto at = std::chrono::floor<std::chrono::seconds>(entry.at);
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ} {} {} {} {} {} {:.1f}",
                       fmt::gmtime(std::chrono::system_clock::to_time_t(at)), entry.client,
                       printable(entry.method), printable(entry.path), entry.status, entry.bytes,
                       entry.milliseconds);
}

HttpReply page_reply(const PageFile& file, const HttpRequest& request) {
    HttpReply reply;
    reply.content_type = file.content_type;
    reply.headers.emplace_back("ETag", file.etag);
    // The page itself is asked for anew; its files have names that change with what is in them.
    reply.headers.emplace_back("Cache-Control",
                               file.path == "/" ? "no-cache" : "public, max-age=31536000, immutable");
    if (request.header("if-none-match") == file.etag) {
        reply.status = 304;
        return reply;
    }
    if (file.gzip)
        reply.headers.emplace_back("Content-Encoding", "gzip");
    reply.body = file.bytes;
    return reply;
}

}  // namespace loamway
