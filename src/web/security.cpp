// SPDX-License-Identifier: Apache-2.0
#include "security.h"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <sys/random.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>

#include "loamway/base/names.h"

namespace loamway {

namespace {

constexpr std::size_t most_clients = 1024;
constexpr std::chrono::minutes silence{10};
constexpr std::chrono::milliseconds first_delay{250};
constexpr int most_doublings = 5;

/// "host" of "host:port", without brackets, in lower case; empty when it is none of the three forms.
std::string host_name(std::string_view header) {
    std::string_view name, rest;
    if (header.starts_with('[')) {
        const std::size_t end = header.find(']');
        if (end == std::string_view::npos)
            return {};
        name = header.substr(1, end - 1);
        rest = header.substr(end + 1);
        in6_addr unused{};
        if (::inet_pton(AF_INET6, std::string(name).c_str(), &unused) != 1)
            return {};
    } else {
        const std::size_t colon = std::min(header.find(':'), header.size());
        name = header.substr(0, colon);
        rest = header.substr(colon);
    }
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    const bool good_port = rest.empty() || (rest.front() == ':' && rest.size() > 1 && rest.size() <= 6 &&
                                            std::all_of(rest.begin() + 1, rest.end(), digit));
    return good_port ? ascii_lower(name) : std::string();
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t'))
        text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t'))
        text.remove_suffix(1);
    return text;
}

bool needs_token(std::string_view path) {
    return path.starts_with("/api/") || path == "/api" || path == "/metrics";
}

HttpReply refused(std::string_view message, std::string_view what_to_do) {
    return error_reply(403, "refused", message, what_to_do);
}

}  // namespace

// inet_pton ends at a NUL, so that "127.0.0.1" with anything behind a NUL would pass for it.
bool is_ip_literal(std::string_view address) {
    if (address.find('\0') != std::string_view::npos)
        return false;
    std::array<unsigned char, sizeof(in6_addr)> unused{};
    const std::string text(address);
    return ::inet_pton(AF_INET, text.c_str(), unused.data()) == 1 ||
           ::inet_pton(AF_INET6, text.c_str(), unused.data()) == 1;
}

bool is_loopback(std::string_view address) {
    if (!is_ip_literal(address))
        return false;
    in_addr four{};
    if (::inet_pton(AF_INET, std::string(address).c_str(), &four) == 1)
        return (ntohl(four.s_addr) >> 24) == 127;
    in6_addr six{};
    return ::inet_pton(AF_INET6, std::string(address).c_str(), &six) == 1 && IN6_IS_ADDR_LOOPBACK(&six) != 0;
}

bool host_allowed(std::string_view host_header, const Guard& guard) {
    const std::string name = host_name(host_header);
    if (name.empty())
        return false;
    if (name == "localhost" || is_loopback(name) || name == ascii_lower(guard.listen))
        return true;
    return !guard.token.empty() && is_ip_literal(name);
}

bool origin_allowed(std::string_view origin, std::string_view host_header) {
    return origin.empty() || ascii_lower(origin) == "http://" + ascii_lower(host_header);
}

bool fetch_site_allowed(std::string_view sec_fetch_site) {
    return ascii_lower(sec_fetch_site) != "cross-site";
}

bool is_json_type(std::string_view content_type) {
    return ascii_lower(trimmed(content_type.substr(0, content_type.find(';')))) == "application/json";
}

std::optional<HttpReply> refusal_of(const HttpRequest& request, const Guard& guard) {
    const auto hosts = std::count_if(request.headers.begin(), request.headers.end(),
                                     [](const auto& h) { return h.first == "host"; });
    if (hosts != 1)
        return error_reply(400, "input", "a request needs one Host header");
    const std::string_view host = request.header("host");
    if (!host_allowed(host, guard))
        return refused("this server does not answer for that host name",
                       "open it by the address that loamway serve printed");
    if (!origin_allowed(request.header("origin"), host) ||
        !fetch_site_allowed(request.header("sec-fetch-site")))
        return refused("requests from other pages are not answered",
                       "open the server's own page in a tab of its own");
    const bool changes = request.method == "POST" || request.method == "DELETE";
    const std::string_view type = request.header("content-type");
    const bool bare_delete = request.method == "DELETE" && type.empty();
    if (changes && !bare_delete && !is_json_type(type))
        return error_reply(415, "input", "the body must be JSON", "send Content-Type: application/json");
    return std::nullopt;
}

TokenState token_state(const HttpRequest& request, const Guard& guard) {
    if (guard.token.empty() || !needs_token(request.path))
        return TokenState::not_needed;
    const std::string_view given = request.header("authorization");
    constexpr std::string_view scheme = "bearer ";
    if (given.size() < scheme.size() || ascii_lower(given.substr(0, scheme.size())) != scheme)
        return TokenState::missing;
    return same_secret(trimmed(given.substr(scheme.size())), guard.token) ? TokenState::right
                                                                          : TokenState::wrong;
}

HttpReply token_refusal() {
    HttpReply reply = error_reply(401, "token", "this server asks for its key",
                                  "open the address that loamway serve printed, with all after #key=");
    reply.headers.emplace_back("WWW-Authenticate", "Bearer");
    return reply;
}

HttpReply too_many_tokens() {
    HttpReply reply = error_reply(429, "token", "wrong keys came from this address", "try again in a moment");
    reply.headers.emplace_back("Retry-After", "8");
    return reply;
}

bool same_secret(std::string_view given, std::string_view secret) {
    volatile unsigned differ = given.size() == secret.size() && !secret.empty() ? 0u : 1u;
    for (std::size_t i = 0; i < given.size() && !secret.empty(); ++i)
        differ = differ | static_cast<unsigned char>(given[i] ^ secret[i % secret.size()]);
    return differ == 0;
}

std::string make_token() {
    std::array<unsigned char, 16> bytes{};
    std::size_t have = 0;
    while (have < bytes.size()) {
        const ssize_t n = ::getrandom(bytes.data() + have, bytes.size() - have, 0);
        if (n < 0 && errno != EINTR)
            throw Error(ErrorKind::io, "the system gives no random numbers for a key", "name one by --token");
        have += n > 0 ? static_cast<std::size_t>(n) : 0;
    }
    // Five bits a letter; no letters that look like digits.
    constexpr std::string_view letters = "abcdefghijkmnpqrstuvwxyz23456789";
    static_assert(letters.size() == 32);
    std::string out;
    std::uint32_t bits = 0;
    int count = 0;
    for (const unsigned char byte : bytes) {
        bits = (bits << 8) | byte;
        for (count += 8; count >= 5; count -= 5)
            out += letters[(bits >> (count - 5)) & 31u];
    }
    out += letters[(bits << (5 - count)) & 31u];
    return out;
}

void require_token_form(std::string_view token) {
    const auto plain = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
               c == '.' || c == '_' || c == '~';
    };
    if (token.size() < 8 || token.size() > 200 || !std::all_of(token.begin(), token.end(), plain))
        throw Error(ErrorKind::input, "--token has the wrong form",
                    "8 to 200 letters, digits and - . _ ~, or leave it out to have one made");
}

std::span<const std::pair<std::string_view, std::string_view>> security_headers() {
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 5> headers{
        {{"Content-Security-Policy",
          "default-src 'none'; script-src 'self'; worker-src 'self' blob:; style-src 'self'; img-src 'self' "
          "data: blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; base-uri 'none'; "
          "form-action 'none'; frame-ancestors 'none'"},
         {"X-Content-Type-Options", "nosniff"},
         {"Referrer-Policy", "no-referrer"},
         {"Cross-Origin-Resource-Policy", "same-origin"},
         {"Cross-Origin-Opener-Policy", "same-origin"}}};
    return headers;
}

void WrongTokens::make_room() {
    if (m_clients.size() < most_clients)
        return;
    m_clients.erase(std::min_element(m_clients.begin(), m_clients.end(), [](const auto& a, const auto& b) {
        return a.second.last < b.second.last;
    }));
}

std::chrono::milliseconds WrongTokens::delay_after_wrong(const std::string& client, Clock::time_point now) {
    if (!m_clients.contains(client))
        make_room();
    Count& count = m_clients[client];
    if (count.wrong > 0 && now - count.last > silence)
        count.wrong = 0;
    count.last = now;
    const int doublings = std::min(count.wrong++, most_doublings);
    const std::chrono::milliseconds delay = first_delay * (1 << doublings);
    count.until = now + delay;
    return delay;
}

bool WrongTokens::is_waiting(const std::string& client, Clock::time_point now) const {
    const auto found = m_clients.find(client);
    return found != m_clients.end() && now < found->second.until;
}

}  // namespace loamway
