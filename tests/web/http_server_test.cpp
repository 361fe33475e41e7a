// SPDX-License-Identifier: Apache-2.0
// The server from outside, by sockets that send exactly what a test says. No test asserts a time; limits are
// set so short or so long that only the one meant can be met.
#include <gtest/gtest.h>

#include <thread>
#include <vector>

#include "running_server.h"

namespace loamway {
namespace {

using namespace std::chrono_literals;

TEST(HttpServer, AnswersAndCloses) {
    Running running;
    const std::string reply = running.said(get("/api/x%20y?q=1"));
    EXPECT_EQ(status_of(reply), 200);
    EXPECT_EQ(body_of(reply), "GET /api/x y ");
    EXPECT_NE(reply.find("\r\nConnection: close\r\n"), std::string::npos);
    EXPECT_NE(reply.find("\r\nContent-Security-Policy: default-src 'none'"), std::string::npos);
    EXPECT_EQ(body_of(running.said(post("/api/x", "{}"))), "POST /api/x {}");
    running.stop();
    EXPECT_NE(running.log().find(" 127.0.0.1 GET /api/x y 200 13 "), std::string::npos) << running.log();
}

TEST(HttpServer, OwnAddresses) {
    Running running;
    EXPECT_EQ(body_of(running.said(get("/health"))), "{\"ok\":true}\n");
    EXPECT_NE(
        running.said(get("/metrics")).find("loamway_requests_total{route=\"health\",status=\"200\"} 1\n"),
        std::string::npos);
    EXPECT_EQ(status_of(running.said(get("/none"))), 404);
    EXPECT_EQ(status_of(running.said(get("/"))), 200);
    const std::string wrong = running.said(post("/health", "{}"));
    EXPECT_EQ(status_of(wrong), 405);
    EXPECT_NE(wrong.find("\r\nAllow: GET, HEAD\r\n"), std::string::npos);
}

TEST(HttpServer, HeadHasNoBody) {
    Running running;
    for (const char* target : {"/health", "/api/x"}) {
        const std::string reply = running.said(std::string("HEAD ") + target +
                                               " HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
        EXPECT_EQ(status_of(reply), 200);
        EXPECT_NE(reply.find("Content-Length: 1"), std::string::npos);
        EXPECT_EQ(body_of(reply), "");
    }
}

TEST(HttpServer, KeepsConnectionsAndTakesPipelines) {
    Running running;
    RawClient client(running.port());
    for (int i = 0; i < 3; ++i) {
        client.send(get("/api/" + std::to_string(i), ""));
        EXPECT_EQ(body_of(client.read_reply()), "GET /api/" + std::to_string(i) + " ");
    }
    std::string all;
    for (int i = 0; i < 20; ++i)
        all += i % 2 == 0 ? post("/api/p", std::to_string(i), "") : get("/api/g" + std::to_string(i), "");
    client.send("\r\n" + all);
    for (int i = 0; i < 20; ++i)
        EXPECT_EQ(body_of(client.read_reply()),
                  i % 2 == 0 ? "POST /api/p " + std::to_string(i) : "GET /api/g" + std::to_string(i) + " ");
}

TEST(HttpServer, RefusesWhatIsNoRequest) {
    Running running;
    for (const char* bad :
         {"nonsense\r\n\r\n", "GET / HTTP/9.9\r\n\r\n", "GET /\r\n\r\n",
          "GET / HTTP/1.1\r\nHost : localhost\r\n\r\n", "GET / HTTP/1.1\r\n\r\n",
          "GET / HTTP/1.1\r\nHost: localhost\r\nHost: localhost\r\n\r\n",
          "GET http://localhost/ HTTP/1.1\r\nHost: localhost\r\n\r\n",
          "POST /api/x HTTP/1.1\r\nHost: localhost\r\nContent-Length: -1\r\n\r\n",
          "POST /api/x HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\nab",
          "POST /api/x HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
          "Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n"}) {
        const std::string reply = running.said(bad);
        EXPECT_EQ(status_of(reply), 400) << bad << reply;
        const std::string body = body_of(reply);
        EXPECT_TRUE(body.starts_with("{\"error\":{\"kind\":\"input\"")) << body;
        EXPECT_EQ(std::count(body.begin(), body.end(), '\n'), 1);
    }
}

TEST(HttpServer, RefusesPathTricks) {
    Running running;
    for (const char* trick :
         {"/page/../x", "/page/%2e%2e/x", "/page/%2E%2E%2Fx", "/a%00b", "/page/./x", "/%5c"})
        EXPECT_EQ(status_of(running.said(get(trick))), 400) << trick;
    EXPECT_EQ(status_of(running.said(get("/page/%252e%252e/x"))), 404) << "decoded once";
    EXPECT_EQ(status_of(running.said(get("//etc/passwd"))), 404);
}

TEST(HttpServer, RefusesOtherHostsAndPages) {
    Running running;
    const auto status = [&](const std::string& headers) {
        return status_of(running.said("GET /api/x HTTP/1.1\r\nConnection: close\r\n" + headers + "\r\n"));
    };
    EXPECT_EQ(status("Host: localhost:1\r\n"), 200);
    EXPECT_EQ(status("Host: localhost:1\r\nOrigin: http://localhost:1\r\nSec-Fetch-Site: same-origin\r\n"),
              200);
    EXPECT_EQ(status("Host: evil.example\r\n"), 403);
    EXPECT_EQ(status("Host: localhost:1\r\nOrigin: http://evil.example\r\n"), 403);
    EXPECT_EQ(status("Host: localhost:1\r\nOrigin: null\r\n"), 403);
    EXPECT_EQ(status("Host: localhost:1\r\nSec-Fetch-Site: cross-site\r\n"), 403);
    EXPECT_EQ(status_of(running.said("POST /api/x HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/plain\r\n"
                                     "Content-Length: 2\r\n\r\n{}")),
              415);
}

TEST(HttpServer, AsksForTheToken) {
    Running running({.token = "hay-and-straw"});
    const auto status = [&](const char* target, const char* key) {
        const std::string header = *key == '\0' ? "" : std::string("Authorization: Bearer ") + key + "\r\n";
        return status_of(running.said(get(target, header + "Connection: close\r\n")));
    };
    EXPECT_EQ(status("/api/x", ""), 401);
    EXPECT_EQ(status("/api/x", "wrong"), 401);
    EXPECT_EQ(status("/api/x", "hay-and-straw"), 200);
    EXPECT_EQ(status("/metrics", ""), 401);
    EXPECT_EQ(status("/metrics", "hay-and-straw"), 200);
    EXPECT_EQ(status("/health", ""), 200);
    EXPECT_EQ(status("/", ""), 200);
    running.stop();
    EXPECT_EQ(running.log().find("hay-and-straw"), std::string::npos);
    EXPECT_EQ(running.log().find("wrong"), std::string::npos);
}

// A guess waited for its answer, but on a connection of its own: whoever left before it and came again, or
// guessed on many at once, did not wait at all, and the right key was told from a wrong one by its speed.
TEST(HttpServer, GuessesOnManyConnectionsWaitForEachOther) {
    Running running({.token = "hay-and-straw"});
    const auto with_key = [](const std::string& key) {
        return get("/api/x", "Authorization: Bearer " + key + "\r\nConnection: close\r\n");
    };
    std::vector<std::unique_ptr<RawClient>> guesses;
    for (int i = 0; i < 8; ++i) {
        guesses.push_back(std::make_unique<RawClient>(running.port()));
        guesses.back()->send(with_key("wrong-" + std::to_string(i)));
    }
    std::map<int, int> statuses;
    for (const auto& guess : guesses)
        ++statuses[status_of(guess->read_all())];
    EXPECT_GE(statuses[401], 1);
    EXPECT_GE(statuses[429], 1) << "one after the other they would take 24 s";
    EXPECT_EQ(statuses[401] + statuses[429], 8);
    // The last of those judged may still hold the address; the key is right as soon as it does not.
    int status = 0;
    while (status != 200)
        status = status_of(running.said(with_key("hay-and-straw")));
    EXPECT_EQ(status, 200);
}

TEST(HttpServer, HeadAndBodyHaveLimits) {
    Running running;
    EXPECT_EQ(status_of(running.said(get("/" + std::string(20'000, 'a')))), 431);
    EXPECT_EQ(status_of(running.said(get("/health", "X: " + std::string(20'000, 'a') + "\r\n"))), 431);
    EXPECT_EQ(status_of(running.said(
                  get("/health", "X: " + std::string(10'000, 'a') + "\r\nConnection: close\r\n"))),
              200);
    const std::string most(std::size_t{4} << 20, ' ');
    EXPECT_EQ(status_of(running.said(post("/api/x", most))), 200);
    EXPECT_EQ(status_of(running.said(post("/api/x", most + " "))), 413);
    // Without a length said before.
    std::string chunked =
        "POST /api/x HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n";
    for (int i = 0; i < 5; ++i)
        chunked += "100000\r\n" + std::string(0x100000, ' ') + "\r\n";
    EXPECT_EQ(status_of(running.said(chunked + "0\r\n\r\n")), 413);
}

TEST(HttpServer, TakesChunkedBodiesAndExpectations) {
    Running running;
    EXPECT_EQ(
        body_of(running.said(
            "POST /api/x HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\n"
            "Connection: close\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n{\"\r\n3\r\na\":\r\n0\r\n\r\n")),
        "POST /api/x {\"a\":");
    RawClient client(running.port());
    client.send(
        "POST /api/x HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nExpect: 100-continue\r\n"
        "Content-Length: 2\r\n\r\n");
    EXPECT_EQ(client.read_until("\r\n\r\n"), "HTTP/1.1 100 Continue\r\n\r\n");
    client.send("{}");
    EXPECT_EQ(body_of(client.read_reply()), "POST /api/x {}");
}

TEST(HttpServer, WrongOrTakenAddress) {
    Running running;
    EXPECT_THROW(HttpServer({.listen = "nowhere"}, Running::echo, {}), Error);
    EXPECT_THROW(HttpServer({.port = running.port()}, Running::echo, {}), Error);
    const HttpServer never_run({}, Running::echo, {});
    EXPECT_GT(never_run.port(), 0);
}

}  // namespace
}  // namespace loamway
