// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_HTTP_INSIDE_H
#define LOAMWAY_SRC_WEB_HTTP_INSIDE_H

// What the server is made of: the listener and its sessions. Only the files http_*.cpp see this header and
// Boost through it: it is the one private header that shows a library (scripts/check_parts). One thread runs
// every function of theirs but those of `Answer`, which workers call; they reach a session by posting to that
// thread.

#include <utility>  // before Boost.Asio, some versions of which forget it

#include <boost/asio.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/http.hpp>

#include <atomic>
#include <chrono>
#include <memory>
#include <unordered_set>

#include "http_server.h"
#include "metrics.h"
#include "security.h"
#include "work_queue.h"

namespace loamway {

namespace net = boost::asio;
namespace http = boost::beast::http;
using Fault = boost::system::error_code;
using net::ip::tcp;
using Clock = std::chrono::steady_clock;

class HttpSession;

class HttpServer::Inside {
public:
    Inside(HttpServerSetup setup_, HttpHandler handler_, Log log_);
    void run();
    void begin_stop();

    void accept();
    void forget(const std::shared_ptr<HttpSession>& session);
    /// False when the queue is full.
    bool work(const std::shared_ptr<HttpSession>& session, std::shared_ptr<const HttpRequest> request);
    [[nodiscard]] ServerState state() const;

    HttpServerSetup setup;
    HttpHandler handler;
    Log log;
    Guard guard;
    Metrics metrics;
    WrongTokens wrong_tokens;
    net::io_context context{1};
    bool stopping = false;

private:
    void listen();
    void wait_for_signals();
    void admit(tcp::socket socket);
    void turn_away(tcp::socket& socket) const;

    friend class HttpServer;
    tcp::acceptor m_acceptor{context};
    net::signal_set m_signals{context};
    net::steady_timer m_timer{context};
    net::executor_work_guard<net::io_context::executor_type> m_alive{context.get_executor()};
    std::unordered_set<std::shared_ptr<HttpSession>> m_sessions;
    std::atomic<std::size_t> m_plans_running = 0;
    WorkQueue m_queue;  // last: its threads end before what they use
};

}  // namespace loamway

#endif
