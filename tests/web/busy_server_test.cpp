// SPDX-License-Identifier: Apache-2.0
// The server with clients that are slow, silent, gone or many, with answers that stream or fail, and at its
// end. No test asserts a time; limits are set so short or so long that only the one meant can be met.
#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <map>
#include <memory>
#include <mutex>
#include <thread>
#include <vector>

#include "running_server.h"

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

TEST(BusyServer, SlowClientsAreToldAndLeft) {
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

TEST(BusyServer, IdleConnectionsEnd) {
    HttpServerSetup setup;
    setup.limits.idle = 50ms;
    Running running(setup);
    EXPECT_EQ(running.said(""), "");
    RawClient client(running.port());
    client.send(get("/health", ""));
    EXPECT_EQ(status_of(client.read_all()), 200);
}

TEST(BusyServer, ClientsThatDoNotReadAreLeft) {
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

TEST(BusyServer, AClientThatOnlyEndedItsSendingGetsWhatIsAnswered) {
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

TEST(BusyServer, StreamsInChunks) {
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

TEST(BusyServer, LongStreamsArriveWhole) {
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

TEST(BusyServer, HandlersLearnThatTheClientLeft) {
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

TEST(BusyServer, HandlersThatFailAreAnsweredFor) {
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

TEST(BusyServer, AFullQueueSaysLater) {
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

TEST(BusyServer, ConnectionsHaveALimit) {
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

TEST(BusyServer, SixtyFourAtOnce) {
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

TEST(BusyServer, StopsWhenWhatRunsIsDone) {
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

TEST(BusyServer, StopsWhatDoesNotEnd) {
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

}  // namespace
}  // namespace loamway
