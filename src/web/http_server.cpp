// SPDX-License-Identifier: Apache-2.0
// The listener: who is let in, the workers, the stop.
#include "http_server.h"

#include <fmt/format.h>

#include <algorithm>
#include <csignal>
#include <exception>
#include <new>
#include <utility>
#include <vector>

#include "http_answer.h"
#include "http_inside.h"
#include "http_session.h"
#include "loamway/base/names.h"
#include "wire.h"

namespace loamway {

namespace {

constexpr std::chrono::milliseconds accept_again{100};

HttpReply fault_reply() {
    return error_reply(500, "internal", "a fault of the program", "see the server's log");
}

}  // namespace

HttpServer::Inside::Inside(HttpServerSetup setup_, HttpHandler handler_, Log log_)
    : setup(std::move(setup_)),
      handler(std::move(handler_)),
      log(std::move(log_)),
      guard{.listen = setup.listen, .token = setup.token},
      m_queue(std::max(1u, setup.workers), std::max<std::size_t>(1, setup.limits.queue)) {
    listen();
    if (setup.stop_on_signals)
        wait_for_signals();
}

void HttpServer::Inside::listen() {
    Fault fault;
    const auto address = net::ip::make_address(setup.listen, fault);
    if (fault)
        throw Error(ErrorKind::input, fmt::format("\"{}\" is no IP address", printable(setup.listen)),
                    "127.0.0.1 for this machine alone, 0.0.0.0 for all its networks");
    const tcp::endpoint endpoint(address, setup.port);
    m_acceptor.open(endpoint.protocol(), fault);
    if (!fault)
        m_acceptor.set_option(tcp::acceptor::reuse_address(true), fault);
    if (!fault)
        m_acceptor.bind(endpoint, fault);
    if (!fault)
        m_acceptor.listen(net::socket_base::max_listen_connections, fault);
    if (fault)
        throw Error(ErrorKind::io,
                    fmt::format("cannot listen on {} port {}: {}", setup.listen, setup.port, fault.message()),
                    fault == net::error::address_in_use ? "name another by --port" : "");
}

void HttpServer::Inside::wait_for_signals() {
    m_signals.add(SIGINT);
    m_signals.add(SIGTERM);
    m_signals.async_wait([this](Fault fault, int) {
        if (fault)
            return;
        m_signals.clear();  // a second signal does what it always does
        begin_stop();
    });
}

void HttpServer::Inside::accept() {
    m_acceptor.async_accept([this](Fault fault, tcp::socket socket) {
        if (stopping)
            return;
        if (!fault) {
            admit(std::move(socket));
            return accept();
        }
        // No file left for it: others must end first.
        m_timer.expires_after(accept_again);
        m_timer.async_wait([this](Fault f) {
            if (!f && !stopping)
                accept();
        });
    });
}

void HttpServer::Inside::admit(tcp::socket socket) {
    Fault fault;
    const auto peer = socket.remote_endpoint(fault);
    if (fault)
        return;
    if (m_sessions.size() >= setup.limits.connections)
        return turn_away(socket);
    socket.set_option(tcp::no_delay(true), fault);
    auto session = std::make_shared<HttpSession>(*this, std::move(socket), peer.address().to_string());
    m_sessions.insert(session);
    session->await_request();
}

/// One try without waiting: whoever is one too many may not cost anything.
void HttpServer::Inside::turn_away(tcp::socket& socket) const {
    HttpReply full = error_reply(503, "io", "the server has too many connections", "try again in a moment");
    full.headers.emplace_back("Retry-After", "2");
    const std::string bytes = reply_head(full, full.body.size(), {.keep_alive = false}) + full.body;
    Fault unused;
    socket.non_blocking(true, unused);
    socket.write_some(net::buffer(bytes), unused);
    socket.shutdown(tcp::socket::shutdown_both, unused);
}

void HttpServer::Inside::forget(const std::shared_ptr<HttpSession>& session) {
    m_sessions.erase(session);
    if (stopping && m_sessions.empty()) {
        m_timer.cancel();
        m_alive.reset();
    }
}

bool HttpServer::Inside::work(const std::shared_ptr<HttpSession>& session,
                              std::shared_ptr<const HttpRequest> request) {
    return m_queue.offer([this, session, request = std::move(request)] {
        Answer answer(context, session);
        HttpReply fault = fault_reply();
        const bool is_plan = request->path == "/api/1/plan";
        m_plans_running += is_plan ? 1 : 0;
        try {
            handler(*request, answer);
        } catch (const Error& e) {
            fault = error_reply(e);
        } catch (const std::bad_alloc&) {
            fault = error_reply(503, "io", "there is not enough memory for this");
        } catch (const std::exception& e) {
            net::post(context, [this, what = printable(e.what())] {
                if (log)
                    log(fmt::format("a fault of the program: {}", what));
            });
        }
        m_plans_running -= is_plan ? 1 : 0;
        answer.finish(std::move(fault));
    });
}

ServerState HttpServer::Inside::state() const {
    return {.connections = m_sessions.size(), .queued = m_queue.waiting(), .plans_running = m_plans_running};
}

void HttpServer::Inside::begin_stop() {
    if (stopping)
        return;
    stopping = true;
    Fault unused;
    m_acceptor.close(unused);
    m_signals.cancel(unused);
    const auto tell_all = [this](bool at_once) {
        // A session that closes leaves the set.
        const std::vector<std::shared_ptr<HttpSession>> all(m_sessions.begin(), m_sessions.end());
        for (const auto& session : all)
            session->stop(at_once);
    };
    m_timer.expires_after(setup.limits.stop);
    m_timer.async_wait([tell_all](Fault fault) {
        if (!fault)
            tell_all(true);
    });
    tell_all(false);
    if (m_sessions.empty()) {
        m_timer.cancel();
        m_alive.reset();
    }
}

void HttpServer::Inside::run() {
    accept();
    for (bool done = false; !done;) {
        try {
            context.run();
            done = true;
        } catch (const std::exception& e) {
            // One connection without memory must not end the others.
            if (log)
                log(fmt::format("a fault of the program: {}", printable(e.what())));
        }
    }
    m_queue.finish();
}

HttpServer::HttpServer(HttpServerSetup setup, HttpHandler handler, Log log)
    : m_inside(std::make_shared<Inside>(std::move(setup), std::move(handler), std::move(log))) {}

HttpServer::~HttpServer() = default;

std::uint16_t HttpServer::port() const {
    return m_inside->m_acceptor.local_endpoint().port();
}

void HttpServer::run() {
    m_inside->run();
}

void HttpServer::stop() {
    net::post(m_inside->context, [inside = m_inside] { inside->begin_stop(); });
}

}  // namespace loamway
