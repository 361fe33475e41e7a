// SPDX-License-Identifier: Apache-2.0
// Targets, reply heads, log lines and counts as text.
#include "wire.h"

#include <gtest/gtest.h>

#include "metrics.h"
#include "page_files.h"

namespace loamway {
namespace {

TEST(ReadTarget, TakesPathAndQueryApart) {
    HttpRequest r;
    EXPECT_FALSE(read_target("/api/1/places?q=Alder%20Farm&limit=3", r));
    EXPECT_EQ(r.path, "/api/1/places");
    EXPECT_EQ(r.parameter("q"), "Alder Farm");
    EXPECT_EQ(r.parameter("limit"), "3");
    EXPECT_EQ(r.parameter("none"), "");
    EXPECT_FALSE(read_target("/api/1/belts/A%2FB%20.../...", r));
    EXPECT_EQ(r.path, "/api/1/belts/A/B .../...");
}

TEST(ReadTarget, RefusesTricks) {
    for (const char* bad : {"",
                            "*",
                            "x",
                            "http://localhost/",
                            "/page/../x",
                            "/..",
                            "/.",
                            "/a/./b",
                            "/page/%2e%2e/x",
                            "/page/%2E/x",
                            "/page/..%2fx",
                            "/a%00b",
                            "/a%0ab",
                            "/a%7f",
                            "/a%5c..%5cb",
                            "/a\\b",
                            "/%ff",
                            "/a%",
                            "/a%2",
                            "/a#b",
                            "/?q=%",
                            "/?q=%ff",
                            "/?q=a%00b",
                            "/?%ff=1"}) {
        HttpRequest r;
        const auto refusal = read_target(bad, r);
        ASSERT_TRUE(refusal) << bad;
        EXPECT_EQ(refusal->status, 400);
    }
}

TEST(ReplyHead, HasWhatEveryReplyCarries) {
    const HttpReply reply{.status = 503, .body = "12345", .headers = {{"Retry-After", "2"}}};
    EXPECT_EQ(
        reply_head(reply, 5, {.keep_alive = false}),
        "HTTP/1.1 503 Service Unavailable\r\n"
        "Content-Type: application/json\r\n"
        "Content-Length: 5\r\n"
        "Connection: close\r\n"
        "Content-Security-Policy: default-src 'none'; script-src 'self'; worker-src 'self' blob:; style-src "
        "'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; base-uri "
        "'none'; form-action 'none'; frame-ancestors 'none'\r\n"
        "X-Content-Type-Options: nosniff\r\n"
        "Referrer-Policy: no-referrer\r\n"
        "Cross-Origin-Resource-Policy: same-origin\r\n"
        "Cross-Origin-Opener-Policy: same-origin\r\n"
        "Cache-Control: no-store\r\n"
        "Retry-After: 2\r\n"
        "\r\n");
}

TEST(ReplyHead, NoValueAddsAHeader) {
    const HttpReply reply{
        .headers = {{"Content-Disposition", "attachment; x\r\nSet-Cookie: a=b\r\n\r\nbody"}}};
    const std::string head = reply_head(reply, 0, {});
    EXPECT_EQ(head.find("\r\nSet-Cookie"), std::string::npos);
    EXPECT_EQ(head.find("\r\n\r\n"), head.size() - 4);
}

TEST(ReplyHead, EmptyStatesHaveNoLength) {
    for (const int status : {204, 304}) {
        const std::string head = reply_head({.status = status}, 0, {});
        EXPECT_EQ(head.find("\r\nContent-Length:"), std::string::npos);
        EXPECT_EQ(head.find("\r\nContent-Type:"), std::string::npos);
    }
    const std::string own = reply_head({.headers = {{"Cache-Control", "max-age=1"}}}, 0, {});
    EXPECT_EQ(own.find("no-store"), std::string::npos);
}

TEST(Chunk, PiecesAndTheirLength) {
    EXPECT_EQ(chunk("0123456789abcdef!"), "11\r\n0123456789abcdef!\r\n");
    EXPECT_EQ(chunk(""), "") << "an empty chunk would end the body";
}

TEST(AccessLine, PathCannotWriteOnTheTerminal) {
    const AccessEntry entry{.at = std::chrono::system_clock::time_point(std::chrono::seconds(1777874400)),
                            .client = "127.0.0.1",
                            .method = "GET",
                            .path = "/a\x1b[2J\xE2\x80\xAE",
                            .status = 404,
                            .bytes = 12,
                            .milliseconds = 0.34};
    const std::string line = access_line(entry);
    EXPECT_EQ(line.find('\x1b'), std::string::npos);
    EXPECT_EQ(line.find("\xE2\x80\xAE"), std::string::npos);
    EXPECT_TRUE(line.starts_with("2026-05-04T06:00:00Z 127.0.0.1 GET /a")) << line;
    EXPECT_TRUE(line.ends_with(" 404 12 0.3")) << line;
}

TEST(PageReply, KeptOrSentWhole) {
    const PageFile page{
        .path = "/", .bytes = "zipped", .content_type = "text/html", .etag = "\"1\"", .gzip = true};
    const PageFile file{
        .path = "/page/a.js", .bytes = "x", .content_type = "text/javascript", .etag = "\"2\""};
    using Header = std::pair<std::string, std::string>;
    using Headers = std::vector<Header>;
    HttpRequest r;
    HttpReply reply = page_reply(page, r);
    EXPECT_EQ(reply.status, 200);
    EXPECT_EQ(reply.body, "zipped");
    EXPECT_EQ(reply.headers,
              (Headers{{"ETag", "\"1\""}, {"Cache-Control", "no-cache"}, {"Content-Encoding", "gzip"}}));
    reply = page_reply(file, r);
    EXPECT_EQ(reply.headers,
              (Headers{{"ETag", "\"2\""}, {"Cache-Control", "public, max-age=31536000, immutable"}}));
    r.headers = {{"if-none-match", "\"2\""}};
    reply = page_reply(file, r);
    EXPECT_EQ(reply.status, 304);
    EXPECT_EQ(reply.body, "");
    EXPECT_EQ(page_reply(page, r).status, 200);
}

TEST(RouteClass, StrangersMakeUpNoLabels) {
    EXPECT_EQ(route_class("/"), "page");
    EXPECT_EQ(route_class("/page/x.js"), "page");
    EXPECT_EQ(route_class("/health"), "health");
    EXPECT_EQ(route_class("/metrics"), "metrics");
    EXPECT_EQ(route_class("/api/1/plan"), "plan");
    EXPECT_EQ(route_class("/api/1/tiles/3/2/1.mvt"), "tiles");
    EXPECT_EQ(route_class("/api/1/made-up\"} 1"), "other");
    EXPECT_EQ(route_class("/api/2/plan"), "other");
    EXPECT_EQ(route_class(""), "other");
}

TEST(Metrics, CountsInText) {
    Metrics m;
    m.count("plan", 200, 0.3);
    m.count("plan", 200, 0.005);
    m.count("plan", 422, 99);
    const std::string text = m.text({.connections = 3, .queued = 2, .plans_running = 1});
    for (const char* line : {"# TYPE loamway_requests_total counter\n",
                             "loamway_requests_total{route=\"plan\",status=\"200\"} 2\n",
                             "loamway_requests_total{route=\"plan\",status=\"422\"} 1\n",
                             "# TYPE loamway_request_seconds histogram\n",
                             "loamway_request_seconds_bucket{route=\"plan\",le=\"0.005\"} 1\n",
                             "loamway_request_seconds_bucket{route=\"plan\",le=\"0.25\"} 1\n",
                             "loamway_request_seconds_bucket{route=\"plan\",le=\"0.5\"} 2\n",
                             "loamway_request_seconds_bucket{route=\"plan\",le=\"30\"} 2\n",
                             "loamway_request_seconds_bucket{route=\"plan\",le=\"+Inf\"} 3\n",
                             "loamway_request_seconds_sum{route=\"plan\"} 99.305000\n",
                             "loamway_request_seconds_count{route=\"plan\"} 3\n", "loamway_connections 3\n",
                             "loamway_queued_requests 2\n", "loamway_plans_running 1\n"})
        EXPECT_NE(text.find(line), std::string::npos) << line << text;
}

}  // namespace
}  // namespace loamway
