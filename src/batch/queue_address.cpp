// SPDX-License-Identifier: Apache-2.0
#include "queue_address.h"

#include <fmt/format.h>

#include <charconv>
#include <cstdint>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/base/names.h"
#include "loamway/base/percent.h"

namespace loamway {

namespace {

constexpr std::size_t largest_credentials = 65536;
constexpr std::string_view how = "nats://HOST:PORT, or tls://HOST:PORT";

std::vector<std::string> pieces(const std::string& list) {
    std::vector<std::string> out(1);
    for (const char c : list) {
        if (c == ',')
            out.emplace_back();
        else
            out.back() += c;
    }
    return out;
}

Error unreadable(const QueueAddress& address, std::string_view what) {
    return {ErrorKind::input, fmt::format("--queue {}: {}", shown_queue(address.url), what),
            std::string(how)};
}

std::string decoded(const QueueAddress& address, std::string_view text) {
    std::optional<std::string> out = percent_decoded(text);
    if (!out || out->find('\0') != std::string::npos)
        throw unreadable(address, "a % is not followed by two hexadecimal digits");
    return *std::move(out);
}

void take_user(const QueueAddress& address, std::string_view user, QueueServers& out) {
    const std::size_t colon = user.find(':');
    if (colon == std::string_view::npos) {
        out.token = decoded(address, user);
        return;
    }
    out.user = decoded(address, user.substr(0, colon));
    out.password = decoded(address, user.substr(colon + 1));
}

std::string host_and_port(const QueueAddress& address, const std::string& rest) {
    const std::size_t closed = rest.starts_with('[') ? rest.find(']') : 0;
    if (closed == std::string::npos)
        throw unreadable(address, "a bracket is not closed");
    const std::size_t colon = rest.find(':', closed);
    const std::string host = rest.substr(0, colon);
    std::string port = colon == std::string::npos ? "4222" : rest.substr(colon + 1);
    const std::string_view allowed =
        closed > 0 ? "0123456789abcdefABCDEF:.[]"
                   : "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ.-_";
    if (host.empty() || host.find_first_not_of(allowed) != std::string::npos)
        throw unreadable(address, "no host");
    std::uint16_t number = 0;
    const auto [end, fault] = std::from_chars(port.data(), port.data() + port.size(), number);
    if (fault != std::errc() || end != port.data() + port.size() || number == 0)
        throw unreadable(address, "the port is no number from 1 to 65535");
    return fmt::format("{}:{}", host, number);
}

void take_server(const QueueAddress& address, std::string url, bool first, QueueServers& out) {
    const bool plain = url.starts_with("nats://"), secure = url.starts_with("tls://");
    if (!plain && !secure)
        throw unreadable(address, "this is no address of a queue");
    if (!first && secure != out.secure)
        throw unreadable(address, "all servers are reached in one manner");
    out.secure = secure;
    url.erase(0, url.find("://") + 3);
    if (const std::size_t at = url.rfind('@'); at != std::string::npos) {
        take_user(address, std::string_view(url).substr(0, at), out);
        url.erase(0, at + 1);
    }
    if (url.ends_with('/'))
        url.pop_back();
    out.servers.push_back((secure ? "tls://" : "nats://") + host_and_port(address, url));
}

void take_credentials(const std::string& file, QueueServers& out) {
    std::string text = read_text_file(file, largest_credentials);
    if (text.find("-----BEGIN NATS USER JWT-----") != std::string::npos) {
        out.creds_file = file;
        return;
    }
    text.erase(text.find_last_not_of(" \t\r\n") + 1);
    if (text.empty() || text.find('\n') != std::string::npos)
        throw Error(ErrorKind::input, "these are no credentials",
                    "one line USER:PASSWORD or a token, or a .creds file", {file, {}, {}});
    const std::size_t colon = text.find(':');
    out.token = colon == std::string::npos ? text : std::string();
    out.user = colon == std::string::npos ? std::string() : text.substr(0, colon);
    out.password = colon == std::string::npos ? std::string() : text.substr(colon + 1);
}

}  // namespace

std::string shown_queue(const std::string& url) {
    const std::size_t scheme = url.find("://");
    const std::size_t begin = scheme == std::string::npos ? 0 : scheme + 3;
    // Anything may belong to a password: all that stands before the last @ is left out.
    const std::size_t at = url.rfind('@');
    const std::string rest = url.substr(at == std::string::npos || at < begin ? begin : at + 1);
    return printable(url.substr(0, begin) + rest.substr(0, rest.find_first_of("?#")));
}

QueueServers read_queue_address(const QueueAddress& address) {
    QueueServers out;
    bool first = true;
    for (const std::string& url : pieces(address.url)) {
        take_server(address, url, first, out);
        first = false;
    }
    if (address.authorities && !out.secure)
        throw unreadable(address, "certificates are for tls:// alone");
    if (address.credentials)
        take_credentials(*address.credentials, out);
    return out;
}

}  // namespace loamway
