// SPDX-License-Identifier: Apache-2.0
// Who may ask, as tables.
#include "security.h"

#include <gtest/gtest.h>

#include <set>

namespace loamway {
namespace {

using namespace std::chrono_literals;

const Guard at_home{.listen = "127.0.0.1", .token = ""};
const Guard in_network{.listen = "0.0.0.0", .token = "hay-and-straw"};
const Guard on_address{.listen = "192.0.2.7", .token = "hay-and-straw"};

struct HostCase {
    const char* host;
    bool at_home, in_network, on_address;
};

TEST(HostAllowed, ByGuard) {
    const HostCase cases[] = {
        {"localhost", true, true, true},
        {"LOCALHOST:8421", true, true, true},
        {"127.0.0.1:8421", true, true, true},
        {"127.0.0.1", true, true, true},
        {"[::1]:8421", true, true, true},
        {"[::1]", true, true, true},
        {"192.0.2.7:8421", false, true, true},
        {"192.0.2.9", false, true, true},
        {"[2001:db8::1]:1", false, true, true},
        {"", false, false, false},
        {"evil.example", false, false, false},
        {"localhost.evil.example", false, false, false},
        {"127.0.0.1.evil.example:8421", false, false, false},
        {"localhost.", false, false, false},
        {"localhost:", false, false, false},
        {"localhost:8421x", false, false, false},
        {"localhost:123456", false, false, false},
        {"localhost:1:2", false, false, false},
        {"::1", false, false, false},
        {"[::1", false, false, false},
        {"[localhost]", false, false, false},
        {"[127.0.0.1]", false, false, false},
        {"user@localhost", false, false, false},
        {"0.0.0.0:8421", false, true, true},
        {"2130706433", false, false, false},
        {"0x7f.1", false, false, false},
    };
    for (const HostCase& c : cases) {
        EXPECT_EQ(host_allowed(c.host, at_home), c.at_home) << c.host;
        EXPECT_EQ(host_allowed(c.host, in_network), c.in_network) << c.host;
        EXPECT_EQ(host_allowed(c.host, on_address), c.on_address) << c.host;
    }
}

TEST(OriginAllowed, OnlyTheSame) {
    EXPECT_TRUE(origin_allowed("", "localhost:1"));
    EXPECT_TRUE(origin_allowed("http://localhost:1", "localhost:1"));
    EXPECT_TRUE(origin_allowed("http://LocalHost:1", "localhost:1"));
    for (const char* other : {"null", "http://localhost", "http://localhost:2", "https://localhost:1",
                              "http://127.0.0.1:1", "localhost:1", "http://localhost:1.evil.example"})
        EXPECT_FALSE(origin_allowed(other, "localhost:1")) << other;
}

TEST(FetchSiteAllowed, NotFromOtherSites) {
    for (const char* fine : {"", "same-origin", "same-site", "none"})
        EXPECT_TRUE(fetch_site_allowed(fine)) << fine;
    EXPECT_FALSE(fetch_site_allowed("cross-site"));
    EXPECT_FALSE(fetch_site_allowed("Cross-Site"));
}

TEST(IsJsonType, IgnoresCaseAndParameters) {
    for (const char* fine :
         {"application/json", "Application/JSON", "application/json; charset=utf-8", " application/json ;x"})
        EXPECT_TRUE(is_json_type(fine)) << fine;
    for (const char* bad : {"", "text/plain", "application/jsonx", "text/plain; application/json",
                            "application/x-www-form-urlencoded"})
        EXPECT_FALSE(is_json_type(bad)) << bad;
}

HttpRequest request(std::string method, std::vector<std::pair<std::string, std::string>> headers) {
    HttpRequest r;
    r.method = std::move(method);
    r.path = "/api/1/region";
    r.headers = std::move(headers);
    return r;
}

int refusal_status(const HttpRequest& r) {
    const auto refusal = refusal_of(r, at_home);
    return refusal ? refusal->status : 200;
}

TEST(RefusalOf, SaysWhy) {
    const std::pair<std::string, std::string> host{"host", "localhost:1"};
    EXPECT_EQ(refusal_status(request("GET", {host})), 200);
    EXPECT_EQ(refusal_status(request("GET", {})), 400);
    EXPECT_EQ(refusal_status(request("GET", {host, host})), 400);
    EXPECT_EQ(refusal_status(request("GET", {{"host", "evil.example"}})), 403);
    EXPECT_EQ(refusal_status(request("GET", {host, {"origin", "http://evil.example"}})), 403);
    EXPECT_EQ(refusal_status(request("GET", {host, {"sec-fetch-site", "cross-site"}})), 403);
    EXPECT_EQ(refusal_status(request("POST", {host})), 415);
    EXPECT_EQ(refusal_status(request("POST", {host, {"content-type", "text/plain"}})), 415);
    EXPECT_EQ(refusal_status(request("POST", {host, {"content-type", "application/json"}})), 200);
    EXPECT_EQ(refusal_status(request("DELETE", {host})), 200);
    EXPECT_EQ(refusal_status(request("DELETE", {host, {"content-type", "text/plain"}})), 415);
}

TEST(TokenStateOf, ByPathAndHeader) {
    HttpRequest r = request("GET", {});
    EXPECT_EQ(token_state(r, at_home), TokenState::not_needed);
    EXPECT_EQ(token_state(r, in_network), TokenState::missing);
    for (const char* open : {"/", "/health", "/page/a.js"}) {
        r.path = open;
        EXPECT_EQ(token_state(r, in_network), TokenState::not_needed) << open;
    }
    for (const char* closed : {"/metrics", "/api/", "/api", "/api/1/tiles/0/0/0.mvt"}) {
        r.path = closed;
        EXPECT_EQ(token_state(r, in_network), TokenState::missing) << closed;
    }
    r.headers = {{"authorization", "Bearer hay-and-straw"}};
    EXPECT_EQ(token_state(r, in_network), TokenState::right);
    r.headers = {{"authorization", "bearer  hay-and-straw "}};
    EXPECT_EQ(token_state(r, in_network), TokenState::right);
    for (const char* wrong : {"Bearer ", "Bearer hay-and-stra", "Bearer hay-and-straws",
                              "Bearer Hay-and-straw", "Bearer hay-and-strawhay-and-straw"}) {
        r.headers = {{"authorization", wrong}};
        EXPECT_EQ(token_state(r, in_network), TokenState::wrong) << wrong;
    }
    r.headers = {{"authorization", "Basic hay-and-straw"}};
    EXPECT_EQ(token_state(r, in_network), TokenState::missing);
}

TEST(SameSecret, AnEmptyOneIsNeverRight) {
    EXPECT_TRUE(same_secret("abc", "abc"));
    EXPECT_FALSE(same_secret("", ""));
    EXPECT_FALSE(same_secret("", "abc"));
    EXPECT_FALSE(same_secret("abcabc", "abc"));
    EXPECT_FALSE(same_secret("abd", "abc"));
}

TEST(MakeToken, LongPlainAndNeverTheSame) {
    std::set<std::string> made;
    for (int i = 0; i < 100; ++i) {
        const std::string token = make_token();
        EXPECT_EQ(token.size(), 26u);
        EXPECT_NO_THROW(require_token_form(token));
        made.insert(token);
    }
    EXPECT_EQ(made.size(), 100u);
    for (const char* bad : {"", "short", "with space", "slash/slash", "quote\"quote", "nine\nlines"})
        EXPECT_THROW(require_token_form(bad), Error) << bad;
}

TEST(IsLoopback, OnlyTheMachineItself) {
    for (const char* own : {"127.0.0.1", "127.9.9.9", "::1"})
        EXPECT_TRUE(is_loopback(own)) << own;
    for (const char* other : {"", "localhost", "0.0.0.0", "::", "128.0.0.1", "192.0.2.7"})
        EXPECT_FALSE(is_loopback(other)) << other;
}

// Found by the fuzz target "wire": the system's reader of addresses ends at a NUL, so that "127.0.0.1" with
// anything behind one passed for this machine.
TEST(IsLoopback, NothingHidesBehindANul) {
    using namespace std::string_view_literals;
    const Guard network{.listen = "0.0.0.0", .token = "hay-and-straw"};
    for (const std::string_view hidden : {"127.0.0.1\0.evil.example"sv, "::1\0x"sv, "192.0.2.7\0"sv}) {
        EXPECT_FALSE(is_loopback(hidden));
        EXPECT_FALSE(is_ip_literal(hidden));
        EXPECT_FALSE(host_allowed(hidden, network));
    }
    EXPECT_FALSE(host_allowed("[::1\0x]:80"sv, network));
}

TEST(WrongTokens, DelayGrowsAndIsForgotten) {
    WrongTokens wrong;
    const WrongTokens::Clock::time_point start{};
    std::vector<std::chrono::milliseconds> delays;
    for (int i = 0; i < 8; ++i)
        delays.push_back(wrong.delay_after_wrong("a", start));
    EXPECT_EQ(delays, (std::vector<std::chrono::milliseconds>{250ms, 500ms, 1s, 2s, 4s, 8s, 8s, 8s}));
    EXPECT_EQ(wrong.delay_after_wrong("b", start), 250ms) << "each address for itself";
    EXPECT_EQ(wrong.delay_after_wrong("a", start + 11min), 250ms) << "after silence";
    EXPECT_EQ(wrong.delay_after_wrong("a", start + 12min), 500ms);
    wrong.forget("a");
    EXPECT_EQ(wrong.delay_after_wrong("a", start + 12min), 250ms) << "after a right one";
}

TEST(WrongTokens, NothingIsJudgedWhileOneWaits) {
    WrongTokens wrong;
    const WrongTokens::Clock::time_point start{};
    EXPECT_FALSE(wrong.is_waiting("a", start));
    (void)wrong.delay_after_wrong("a", start);
    EXPECT_TRUE(wrong.is_waiting("a", start + 249ms));
    EXPECT_FALSE(wrong.is_waiting("b", start + 249ms));
    EXPECT_FALSE(wrong.is_waiting("a", start + 250ms));
    wrong.forget("a");
    EXPECT_FALSE(wrong.is_waiting("a", start));
}

TEST(WrongTokens, TableIsBounded) {
    WrongTokens wrong;
    WrongTokens::Clock::time_point now{};
    (void)wrong.delay_after_wrong("first", now);
    for (int i = 0; i < 3000; ++i)
        (void)wrong.delay_after_wrong(std::to_string(i), now += 1ms);
    EXPECT_EQ(wrong.size(), 1024u);
    EXPECT_EQ(wrong.delay_after_wrong("2999", now), 500ms);
    EXPECT_EQ(wrong.delay_after_wrong("first", now), 250ms);
}

TEST(SecurityHeaders, ScriptsOfOthersNeverRun) {
    std::map<std::string_view, std::string_view> headers(security_headers().begin(),
                                                         security_headers().end());
    EXPECT_EQ(
        headers["Content-Security-Policy"],
        "default-src 'none'; script-src 'self'; worker-src 'self' blob:; style-src 'self'; img-src 'self' data: "
        "blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'");
    EXPECT_EQ(headers["X-Content-Type-Options"], "nosniff");
    EXPECT_EQ(headers["Referrer-Policy"], "no-referrer");
    EXPECT_EQ(headers["Cross-Origin-Resource-Policy"], "same-origin");
    EXPECT_EQ(headers["Cross-Origin-Opener-Policy"], "same-origin");
}

}  // namespace
}  // namespace loamway
