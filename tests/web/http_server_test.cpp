// SPDX-License-Identifier: Apache-2.0
// The server from outside, by sockets that send exactly what a test says. No test asserts a time; limits are
// set so short or so long that only the one meant can be met.
#include "http_server.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <map>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

#include "raw_client.h"

namespace loamway {
namespace {

using namespace std::chrono_literals;

/// Closed until it is opened; then open for good.
class Gate {
public:
    void open() {
        const std::lock_guard lock(m_mutex);
        m_open = true;
        m_opened.notify_all();
    }
    void wait() {
        std::unique_lock lock(m_mutex);
        m_opened.wait(lock, [this] { return m_open; });
    }

private:
    std::mutex m_mutex;
    std::condition_variable m_opened;
    bool m_open = false;
};

class Running {
public:
    explicit Running(HttpServerSetup setup = {}, HttpHandler handler = echo)
        : m_server(std::move(setup), std::move(handler),
                   [this](std::string_view line) {
                       const std::lock_guard lock(m_mutex);
                       m_log += std::string(line) + "\n";
                   }),
          m_port(m_server.port()),
          m_thread([this] { m_server.run(); }) {}
    ~Running() { stop(); }

    void stop() {
        m_server.stop();
        if (m_thread.joinable())
            m_thread.join();
    }
    [[nodiscard]] HttpServer& server() { return m_server; }
    [[nodiscard]] std::uint16_t port() const { return m_port; }
    [[nodiscard]] std::string log() {
        const std::lock_guard lock(m_mutex);
        return m_log;
    }
    /// All the server says to these bytes until it closes.
    [[nodiscard]] std::string said(std::string_view bytes) const {
        RawClient client(m_port);
        client.send(bytes);
        return client.read_all();
    }

    static void echo(const HttpRequest& r, Exchange& exchange) {
        exchange.reply({.body = r.method + " " + r.path + " " + r.body});
    }

private:
    std::mutex m_mutex;
    std::string m_log;
    HttpServer m_server;
    std::uint16_t m_port;
    std::thread m_thread;
};

std::string get(const std::string& target, const std::string& more = "Connection: close\r\n") {
    return "GET " + target + " HTTP/1.1\r\nHost: localhost\r\n" + more + "\r\n";
}

std::string post(const std::string& target, const std::string& body,
                 const std::string& more = "Connection: close\r\n") {
    return "POST " + target +
           " HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: " +
           std::to_string(body.size()) + "\r\n" + more + "\r\n" + body;
}

std::string body_of(const std::string& reply) {
    const std::size_t at = reply.find("\r\n\r\n");
    return at == std::string::npos ? std::string() : reply.substr(at + 4);
}

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

TEST(HttpServer, SlowClientsAreToldAndLeft) {
    HttpServerSetup setup;
    setup.limits.head = 100ms;
    setup.limits.body = 100ms;
    Running running(setup);
    EXPECT_EQ(status_of(running.said("GET /health HTTP/1.1\r\nHo")), 408);
    const std::string whole = post("/api/x", "123456");
    EXPECT_EQ(status_of(running.said(whole.substr(0, whole.size() - 1))), 408);
    // One byte now and then does not help.
    RawClient drip(running.port());
    std::thread dripping([&] {
        for (const char c : get("/health")) {
            drip.send(std::string_view(&c, 1));
            std::this_thread::sleep_for(10ms);
        }
    });
    EXPECT_EQ(status_of(drip.read_all()), 408);
    dripping.join();
}

TEST(HttpServer, IdleConnectionsEnd) {
    HttpServerSetup setup;
    setup.limits.idle = 50ms;
    Running running(setup);
    EXPECT_EQ(running.said(""), "");
    RawClient client(running.port());
    client.send(get("/health", ""));
    EXPECT_EQ(status_of(client.read_all()), 200);
}

TEST(HttpServer, ClientsThatDoNotReadAreLeft) {
    HttpServerSetup setup;
    setup.limits.write = 100ms;
    Gate ended;
    std::atomic<bool> was_gone = false;
    Running running(setup, [&](const HttpRequest&, Exchange& exchange) {
        exchange.begin("text/plain");
        while (!exchange.gone())
            exchange.write(std::string(100'000, 'x'));
        was_gone = true;
        exchange.end();
        ended.open();
    });
    const RawClient client(running.port());
    client.send(get("/api/x"));
    ended.wait();
    EXPECT_TRUE(was_gone);
}

TEST(HttpServer, AClientThatOnlyEndedItsSendingGetsWhatIsAnswered) {
    Running running({}, [&](const HttpRequest&, Exchange& exchange) {
        while (!exchange.gone())
            std::this_thread::yield();
        exchange.reply({.body = "all the same"});
    });
    for (const char* path : {"/api/x", "/health"}) {
        RawClient client(running.port());
        client.send(get(path));
        client.finish_sending();
        EXPECT_EQ(status_of(client.read_all()), 200) << path;
    }
}

TEST(HttpServer, StreamsInChunks) {
    Gate second;
    Running running({}, [&](const HttpRequest&, Exchange& exchange) {
        exchange.begin("application/x-ndjson");
        exchange.write("{\"progress\":1}\n");
        second.wait();
        exchange.write("");
        exchange.write("{\"plan\":2}\n");
        exchange.end();
    });
    RawClient client(running.port());
    client.send(get("/api/x", ""));
    EXPECT_NE(client.read_until("\r\n\r\n").find("\r\nTransfer-Encoding: chunked\r\n"), std::string::npos);
    EXPECT_EQ(client.read_until("}\n\r\n"), "f\r\n{\"progress\":1}\n\r\n") << "comes at once";
    second.open();
    EXPECT_EQ(client.read_until("0\r\n\r\n"), "b\r\n{\"plan\":2}\n\r\n0\r\n\r\n");
    client.send(get("/health"));
    EXPECT_EQ(body_of(client.read_all()), "{\"ok\":true}\n") << "the connection goes on";
    // An old client learns the end by the end of the connection.
    EXPECT_EQ(body_of(running.said("GET /api/x HTTP/1.0\r\nHost: localhost\r\n\r\n")),
              "{\"progress\":1}\n{\"plan\":2}\n");
    const std::string head =
        running.said("HEAD /api/x HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n");
    EXPECT_EQ(status_of(head), 200);
    EXPECT_EQ(body_of(head), "");
}

TEST(HttpServer, LongStreamsArriveWhole) {
    Running running({}, [](const HttpRequest&, Exchange& exchange) {
        exchange.begin("text/plain");
        for (int i = 0; i < 200; ++i)
            exchange.write(std::string(50'000, static_cast<char>('a' + i % 26)));
        exchange.end();
    });
    const std::string body = body_of(running.said("GET /api/x HTTP/1.0\r\nHost: localhost\r\n\r\n"));
    ASSERT_EQ(body.size(), 10'000'000u);
    EXPECT_EQ(body[49'999], 'a');
    EXPECT_EQ(body[50'000], 'b');
    Running whole({}, [&](const HttpRequest&, Exchange& exchange) { exchange.reply({.body = body}); });
    EXPECT_EQ(body_of(whole.said(get("/api/x"))), body);
}

TEST(HttpServer, HandlersLearnThatTheClientLeft) {
    for (const bool streaming : {false, true}) {
        Gate begun, ended;
        Running running({}, [&](const HttpRequest&, Exchange& exchange) {
            if (streaming) {
                exchange.begin("text/plain");
                exchange.write("x\n");
            }
            begun.open();
            while (!exchange.gone())
                std::this_thread::sleep_for(1ms);
            ended.open();
        });
        RawClient client(running.port());
        client.send(get("/api/x"));
        begun.wait();
        client.close();
        ended.wait();
    }
}

TEST(HttpServer, HandlersThatFailAreAnsweredFor) {
    Running running({}, [](const HttpRequest& r, Exchange& exchange) {
        if (r.path == "/api/error")
            throw Error(ErrorKind::no_route, "there is no way");
        if (r.path == "/api/fault")
            throw std::runtime_error("secret");
        if (r.path == "/api/cut") {
            exchange.begin("text/plain");
            exchange.write("half");
        }
    });
    const std::string error = running.said(get("/api/error"));
    EXPECT_EQ(status_of(error), 422);
    EXPECT_NE(error.find("\"kind\":\"no_route\""), std::string::npos);
    const std::string fault = running.said(get("/api/fault"));
    EXPECT_EQ(status_of(fault), 500);
    EXPECT_EQ(fault.find("secret"), std::string::npos);
    EXPECT_EQ(status_of(running.said(get("/api/nothing"))), 500);
    const std::string cut = running.said(get("/api/cut"));
    EXPECT_EQ(cut.find("0\r\n\r\n"), std::string::npos) << "nobody may take it for whole";
    running.stop();
    EXPECT_NE(running.log().find("a fault of the program: secret"), std::string::npos);
}

TEST(HttpServer, AFullQueueSaysLater) {
    HttpServerSetup setup;
    setup.workers = 1;
    setup.limits.queue = 1;
    Gate begun, go_on;
    Running running(setup, [&](const HttpRequest&, Exchange& exchange) {
        begun.open();
        go_on.wait();
        exchange.reply({.body = "done"});
    });
    RawClient first(running.port()), second(running.port());
    first.send(get("/api/1"));
    begun.wait();
    second.send(get("/api/2"));
    // Whichever of the two comes first waits; the other is told.
    RawClient third(running.port());
    third.send(get("/api/3"));
    while (running.log().find(" 503 ") == std::string::npos)
        std::this_thread::sleep_for(1ms);
    go_on.open();
    const std::string replies[] = {first.read_all(), second.read_all(), third.read_all()};
    EXPECT_EQ(status_of(replies[0]), 200);
    EXPECT_EQ(status_of(replies[1]) + status_of(replies[2]), 200 + 503);
    const std::string& later = status_of(replies[1]) == 503 ? replies[1] : replies[2];
    EXPECT_NE(later.find("\r\nRetry-After: 2\r\n"), std::string::npos);
}

TEST(HttpServer, ConnectionsHaveALimit) {
    HttpServerSetup setup;
    setup.limits.connections = 2;
    Running running(setup);
    RawClient first(running.port()), second(running.port());
    for (RawClient* client : {&first, &second}) {
        client->send(get("/health", ""));
        EXPECT_EQ(status_of(client->read_reply()), 200);
    }
    EXPECT_EQ(status_of(RawClient(running.port()).read_all()), 503);
    first.close();
    int status = 0;
    while (status != 200)  // the server has yet to see that one left
        status = status_of(running.said(get("/health")));
    EXPECT_EQ(status, 200);
}

TEST(HttpServer, SixtyFourAtOnce) {
    Running running({.workers = 4});
    std::atomic<int> right = 0;
    std::vector<std::thread> clients;
    for (int i = 0; i < 64; ++i)
        clients.emplace_back([&, i] {
            RawClient client(running.port());
            for (int j = 0; j < 10; ++j) {
                const std::string body = std::to_string(i * 100 + j);
                client.send(post("/api/x", body, ""));
                right += body_of(client.read_reply()) == "POST /api/x " + body ? 1 : 0;
            }
        });
    for (std::thread& client : clients)
        client.join();
    EXPECT_EQ(right, 640);
}

TEST(HttpServer, StopsWhenWhatRunsIsDone) {
    Gate begun, go_on;
    Running running({}, [&](const HttpRequest&, Exchange& exchange) {
        begun.open();
        go_on.wait();
        exchange.reply({.body = exchange.gone() ? "gone" : "done"});
    });
    RawClient working(running.port()), idle(running.port()), half(running.port());
    half.send("GET /api/");
    working.send(get("/api/x", ""));
    begun.wait();
    running.server().stop();
    EXPECT_EQ(idle.read_all(), "");
    EXPECT_EQ(half.read_all(), "");
    EXPECT_THROW(RawClient late(running.port()), std::exception);
    go_on.open();
    const std::string reply = working.read_all();
    EXPECT_EQ(body_of(reply), "done");
    EXPECT_NE(reply.find("\r\nConnection: close\r\n"), std::string::npos);
}

TEST(HttpServer, StopsWhatDoesNotEnd) {
    HttpServerSetup setup;
    setup.limits.stop = 50ms;
    Gate begun;
    Running running(setup, [&](const HttpRequest&, Exchange& exchange) {
        begun.open();
        while (!exchange.gone())
            std::this_thread::sleep_for(1ms);
    });
    RawClient client(running.port());
    client.send(get("/api/x"));
    begun.wait();
    running.stop();
    EXPECT_EQ(client.read_all(), "");
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
