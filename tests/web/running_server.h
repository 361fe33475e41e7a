// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_WEB_RUNNING_SERVER_H
#define LOAMWAY_TESTS_WEB_RUNNING_SERVER_H

// A server that runs on a thread of its own as long as a test lasts, and what is sent to it.

#include <mutex>
#include <string>
#include <string_view>
#include <thread>
#include <utility>

#include "http_server.h"
#include "raw_client.h"

namespace loamway {

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

inline std::string get(const std::string& target, const std::string& more = "Connection: close\r\n") {
    return "GET " + target + " HTTP/1.1\r\nHost: localhost\r\n" + more + "\r\n";
}

inline std::string post(const std::string& target, const std::string& body,
                        const std::string& more = "Connection: close\r\n") {
    return "POST " + target +
           " HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: " +
           std::to_string(body.size()) + "\r\n" + more + "\r\n" + body;
}

inline std::string body_of(const std::string& reply) {
    const std::size_t at = reply.find("\r\n\r\n");
    return at == std::string::npos ? std::string() : reply.substr(at + 4);
}

}  // namespace loamway

#endif
