// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_SECURITY_H
#define LOAMWAY_SRC_WEB_SECURITY_H

// Who may ask. A server on a desk is reached by every page the same browser has open, so that requests are
// judged by their Host (names that were made to point here), Origin and Sec-Fetch-Site (other pages) and, on
// a network, by a token. Pure functions, apart from make_token().

#include <chrono>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "http.h"

namespace loamway {

struct Guard {
    std::string listen;  // the address the server listens on, without port and brackets
    std::string token;   // empty: none is asked for
};

/// "host", "host:port", "[::1]:port". localhost, loopback and listen address; any IP literal with a token,
/// for then a name that was made to point here is of no use; never another name.
[[nodiscard]] bool host_allowed(std::string_view host_header, const Guard& guard);
/// Empty (no browser, or a plain visit) or "http://" and the request's own host.
[[nodiscard]] bool origin_allowed(std::string_view origin, std::string_view host_header);
/// Anything but "cross-site".
[[nodiscard]] bool fetch_site_allowed(std::string_view sec_fetch_site);
/// "application/json", in any case and with parameters.
[[nodiscard]] bool is_json_type(std::string_view content_type);

/// The reply to a request that may not go on, whatever it asks for: 400, 403 or 415. The token is apart.
[[nodiscard]] std::optional<HttpReply> refusal_of(const HttpRequest& request, const Guard& guard);

enum class TokenState { not_needed, right, missing, wrong };
[[nodiscard]] TokenState token_state(const HttpRequest& request, const Guard& guard);
[[nodiscard]] HttpReply token_refusal();
/// 429, for a token that is not judged now.
[[nodiscard]] HttpReply too_many_tokens();

/// Takes as long whether the first byte differs or the last; only lengths show.
[[nodiscard]] bool same_secret(std::string_view given, std::string_view secret);
/// 128 bits of the system's randomness, as 26 lower-case letters and digits.
[[nodiscard]] std::string make_token();
/// Input Error unless the token can stand in an address and is no shorter than 8 characters.
void require_token_form(std::string_view token);

[[nodiscard]] bool is_loopback(std::string_view address);
[[nodiscard]] bool is_ip_literal(std::string_view address);

/// What every reply carries.
[[nodiscard]] std::span<const std::pair<std::string_view, std::string_view>> security_headers();

/// How long the answer to a wrong token waits: a quarter of a second, then twice as long each time up to 8 s.
/// For as long no other token from that address is judged, so that nobody can guess on many connections at
/// once, or leave and come again before the answer. Who shares the address waits too. Counts by client
/// address, at most 1024 of them (the longest silent is forgotten); 10 min of silence or a right token clear
/// an address. Not for several threads.
class WrongTokens {
public:
    using Clock = std::chrono::steady_clock;
    [[nodiscard]] std::chrono::milliseconds delay_after_wrong(const std::string& client,
                                                              Clock::time_point now);
    /// A wrong token from there still waits for its answer.
    [[nodiscard]] bool is_waiting(const std::string& client, Clock::time_point now) const;
    void forget(const std::string& client) { m_clients.erase(client); }
    [[nodiscard]] std::size_t size() const { return m_clients.size(); }

private:
    struct Count {
        int wrong = 0;
        Clock::time_point last, until;
    };
    void make_room();
    std::map<std::string, Count> m_clients;
};

}  // namespace loamway

#endif
