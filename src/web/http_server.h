// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_HTTP_SERVER_H
#define LOAMWAY_SRC_WEB_HTTP_SERVER_H

// HTTP/1.1 over TCP: connections, limits, deadlines, who may ask, the page's files, /health, /metrics and the
// access log. What lies under /api/ is answered by a handler on worker threads; one thread does all else and
// never waits.

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "http.h"

namespace loamway {

struct HttpLimits {
    std::size_t head_bytes = 16 * 1024;
    std::size_t body_bytes = std::size_t{4} << 20;
    std::chrono::milliseconds head = std::chrono::seconds(10);  // from its first byte
    std::chrono::milliseconds body = std::chrono::seconds(30);
    std::chrono::milliseconds idle = std::chrono::seconds(60);   // between requests
    std::chrono::milliseconds write = std::chrono::seconds(60);  // for each 64 kB of an answer
    std::chrono::milliseconds stop = std::chrono::seconds(10);   // for requests running at the stop
    std::size_t connections = 256;
    std::size_t queue = 64;  // requests that wait for a worker
};

struct HttpServerSetup {
    std::string listen = "127.0.0.1";  // an IP address
    std::uint16_t port = 0;            // 0: any that is free
    std::string token = {};            // empty: none is asked for
    unsigned workers = 2;
    HttpLimits limits = {};
    bool stop_on_signals = false;  // SIGINT and SIGTERM; a second one ends the program at once
};

class HttpServer {
public:
    using Log = std::function<void(std::string_view line)>;  // called by the thread in run()

    /// Listens when it returns; io Error when the address cannot be had, input Error for a wrong one.
    HttpServer(HttpServerSetup setup, HttpHandler handler, Log log);
    HttpServer(const HttpServer&) = delete;
    HttpServer& operator=(const HttpServer&) = delete;
    ~HttpServer();

    [[nodiscard]] std::uint16_t port() const;
    /// Serves until it is stopped: no new connections, requests that run get `limits.stop`, then they are
    /// told that their client is gone. Returns when all workers are done.
    void run();
    /// From any thread, also before run().
    void stop();

    class Inside;

private:
    std::shared_ptr<Inside> m_inside;
};

}  // namespace loamway

#endif
