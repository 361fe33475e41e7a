// SPDX-License-Identifier: Apache-2.0
// The only file that knows Boost.Asio and Boost.Beast. One thread runs every function here but those of
// `Answer`, which workers call; they reach a session by posting to that thread.
#include "http_server.h"

#include <fmt/format.h>

#include <boost/asio.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/http.hpp>

#include <algorithm>
#include <array>
#include <atomic>
#include <condition_variable>
#include <csignal>
#include <deque>
#include <exception>
#include <mutex>
#include <new>
#include <optional>
#include <unordered_set>
#include <utility>
#include <vector>

#include "loamway/base/names.h"
#include "metrics.h"
#include "page_files.h"
#include "security.h"
#include "wire.h"
#include "work_queue.h"

namespace loamway {

namespace net = boost::asio;
namespace http = boost::beast::http;
using Fault = boost::system::error_code;
using net::ip::tcp;
using Clock = std::chrono::steady_clock;

namespace {

constexpr std::size_t slice_bytes = 64 * 1024;      // written under one deadline
constexpr std::size_t stream_backlog = 256 * 1024;  // a handler waits beyond
constexpr std::chrono::seconds farewell{2};         // for a refused client to read why
constexpr std::chrono::milliseconds accept_again{100};

class Session;

}  // namespace

class HttpServer::Inside {
public:
    Inside(HttpServerSetup setup_, HttpHandler handler_, Log log_);
    void run();
    void begin_stop();

    void accept();
    void forget(const std::shared_ptr<Session>& session);
    /// False when the queue is full.
    bool work(const std::shared_ptr<Session>& session, std::shared_ptr<const HttpRequest> request);
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
    std::unordered_set<std::shared_ptr<Session>> m_sessions;
    std::atomic<std::size_t> m_plans_running = 0;
    WorkQueue m_queue;  // last: its threads end before what they use
};

namespace {

/// One connection, from request to request. Every function runs on the server's thread, but gone() and
/// reserve().
class Session : public std::enable_shared_from_this<Session> {
public:
    Session(HttpServer::Inside& server, tcp::socket socket, std::string client);

    void await_request();
    void reply(HttpReply reply, bool keep = true);
    void begin_stream(std::string_view content_type);
    void write_stream(std::string piece);
    void end_stream();
    /// The handler failed within its stream: the client sees a body without an end.
    void abort();
    /// The server stops: at once, or after the request that runs.
    void stop(bool at_once);

    [[nodiscard]] bool gone() const { return m_gone; }
    /// Waits for room in what is to be written; false when the client is gone.
    bool reserve(std::size_t bytes);

private:
    enum class Phase { idle, head, body, held, working, writing, parting, closed };

    void set_deadline(Clock::duration after);
    void deadline_passed();
    void watch();
    void watched(Fault fault, std::size_t bytes);
    void read_head();
    void head_read(Fault fault);
    [[nodiscard]] std::optional<HttpReply> take_head();
    void read_body();
    void body_read(Fault fault);
    void refuse_fault(Fault fault);
    void dispatch();
    [[nodiscard]] HttpReply own_reply() const;
    void hold_wrong_token();
    void send(std::string bytes);
    void write_slice();
    void written(Fault fault, std::size_t bytes);
    void answered();
    void note_access();
    void mark_gone();
    void part();
    void drain();
    void close();

    HttpServer::Inside& m_server;
    tcp::socket m_socket;
    const std::string m_client;
    net::steady_timer m_timer;
    boost::beast::flat_buffer m_buffer;
    std::optional<http::request_parser<http::string_body>> m_parser;
    std::shared_ptr<HttpRequest> m_request;
    Phase m_phase = Phase::idle;
    bool m_watching = false, m_writing = false, m_end_seen = false, m_too_slow = false;
    bool m_head_only = false, m_keep_alive = true, m_old_form = false, m_streaming = false,
         m_complete = false;
    int m_status = 0;
    std::size_t m_sent = 0;
    Clock::time_point m_begun;
    std::deque<std::string> m_out;
    std::size_t m_out_done = 0;  // bytes of its first piece that are written

    std::atomic<bool> m_gone = false;
    std::mutex m_room_mutex;
    std::condition_variable m_room;
    std::size_t m_backlog = 0;  // under m_room_mutex
};

/// A handler's end of a session, on a worker's thread.
class Answer : public Exchange {
public:
    Answer(net::io_context& context, std::shared_ptr<Session> session)
        : m_context(context), m_session(std::move(session)) {}

    void reply(HttpReply reply) override {
        require_state(State::open);
        m_state = State::done;
        net::post(m_context, [s = m_session, r = std::move(reply)]() mutable { s->reply(std::move(r)); });
    }
    void begin(std::string_view content_type) override {
        require_state(State::open);
        m_state = State::begun;
        net::post(m_context, [s = m_session, t = std::string(content_type)] { s->begin_stream(t); });
    }
    void write(std::string_view piece) override {
        require_state(State::begun);
        if (piece.empty() || !m_session->reserve(piece.size()))
            return;
        net::post(m_context,
                  [s = m_session, p = std::string(piece)]() mutable { s->write_stream(std::move(p)); });
    }
    void end() override {
        require_state(State::begun);
        m_state = State::done;
        net::post(m_context, [s = m_session] { s->end_stream(); });
    }
    bool gone() const override { return m_session->gone(); }

    /// After the handler: there is an answer, whatever it did.
    void finish(HttpReply fault) {
        if (m_state == State::open)
            reply(std::move(fault));
        else if (m_state == State::begun)
            net::post(m_context, [s = m_session] { s->abort(); });
        m_state = State::done;
    }

private:
    enum class State { open, begun, done };
    void require_state(State wanted) const {
        if (m_state != wanted)
            throw Error(ErrorKind::internal, "an answer was given in the wrong order");
    }
    net::io_context& m_context;
    std::shared_ptr<Session> m_session;
    State m_state = State::open;
};

HttpReply fault_reply() {
    return error_reply(500, "internal", "a fault of the program", "see the server's log");
}

// --- a session: time ---

Session::Session(HttpServer::Inside& server, tcp::socket socket, std::string client)
    : m_server(server),
      m_socket(std::move(socket)),
      m_client(std::move(client)),
      m_timer(server.context),
      m_buffer(server.setup.limits.head_bytes + 2 * slice_bytes) {}

void Session::set_deadline(Clock::duration after) {
    m_timer.expires_after(after);
    m_timer.async_wait([self = shared_from_this()](Fault fault) {
        // A timer set again may have been due already: its time says which of the two this is.
        if (!fault && self->m_timer.expiry() <= Clock::now())
            self->deadline_passed();
    });
}

void Session::deadline_passed() {
    switch (m_phase) {
        case Phase::head:
        case Phase::body:
            m_too_slow = true;
            m_socket.cancel();
            break;
        case Phase::held:
            reply(token_refusal(), false);
            break;
        case Phase::working:
            if (m_writing)
                close();
            break;
        default:
            close();
    }
}

// --- a session: reading ---

void Session::await_request() {
    if (m_end_seen || m_server.stopping)
        return part();
    m_phase = Phase::idle;
    m_request.reset();
    m_parser.reset();
    m_streaming = m_complete = m_head_only = false;
    m_sent = 0;
    m_status = 0;
    // Empty lines before a request are allowed.
    while (m_buffer.size() > 0) {
        const char first = *static_cast<const char*>(m_buffer.data().data());
        if (first != '\r' && first != '\n')
            return read_head();
        m_buffer.consume(1);
    }
    set_deadline(m_server.setup.limits.idle);
    watch();
}

/// Keeps a read pending, also while a handler works: the only way to learn that a client left. What comes
/// early stays in the buffer, and then nothing more is read until its turn.
void Session::watch() {
    if (m_watching || m_end_seen || m_buffer.size() > 0)
        return;
    m_watching = true;
    m_socket.async_read_some(
        m_buffer.prepare(4096),
        [self = shared_from_this()](Fault fault, std::size_t bytes) { self->watched(fault, bytes); });
}

void Session::watched(Fault fault, std::size_t bytes) {
    m_watching = false;
    if (m_phase == Phase::closed)
        return;
    if (fault == net::error::operation_aborted)
        return;
    if (fault) {
        m_end_seen = true;
        mark_gone();
        if (m_phase == Phase::idle || m_phase == Phase::held || fault != net::error::eof)
            close();
        return;
    }
    m_buffer.commit(bytes);
    if (m_phase == Phase::idle)
        await_request();
}

void Session::read_head() {
    m_phase = Phase::head;
    m_begun = Clock::now();
    m_parser.emplace();
    m_parser->header_limit(static_cast<std::uint32_t>(m_server.setup.limits.head_bytes));
    m_parser->body_limit(m_server.setup.limits.body_bytes);
    set_deadline(m_server.setup.limits.head);
    http::async_read_header(
        m_socket, m_buffer, *m_parser,
        [self = shared_from_this()](Fault fault, std::size_t) { self->head_read(fault); });
}

void Session::head_read(Fault fault) {
    if (m_phase == Phase::closed)
        return;
    if (fault || m_too_slow)
        return refuse_fault(fault);
    if (auto refusal = take_head())
        return reply(std::move(*refusal), false);
    switch (token_state(*m_request, m_server.guard)) {
        case TokenState::missing:
            return reply(token_refusal(), false);
        case TokenState::wrong:
            return hold_wrong_token();
        case TokenState::right:
            m_server.wrong_tokens.forget(m_client);
            break;
        case TokenState::not_needed:
            break;
    }
    if (m_parser->is_done())
        return dispatch();
    if (m_request->header("expect").empty())
        return read_body();
    m_phase = Phase::body;
    constexpr std::string_view go_on = "HTTP/1.1 100 Continue\r\n\r\n";
    net::async_write(m_socket, net::buffer(go_on), [self = shared_from_this()](Fault f, std::size_t) {
        if (self->m_phase == Phase::closed)
            return;
        f ? self->close() : self->read_body();
    });
}

std::optional<HttpReply> Session::take_head() {
    const auto& message = m_parser->get();
    m_request = std::make_shared<HttpRequest>();
    m_request->client = m_client;
    m_request->method = std::string(message.method_string());
    m_head_only = m_request->method == "HEAD";
    if (m_head_only)
        m_request->method = "GET";
    m_keep_alive = m_parser->keep_alive();
    m_old_form = message.version() < 11;
    for (const auto& field : message)
        m_request->headers.emplace_back(ascii_lower({field.name_string().data(), field.name_string().size()}),
                                        std::string(field.value()));
    const auto target = message.target();
    if (auto wrong = read_target({target.data(), target.size()}, *m_request))
        return wrong;
    if (m_parser->chunked() && !m_request->header("content-length").empty())
        return error_reply(400, "input", "a body has one length, not two");
    return refusal_of(*m_request, m_server.guard);
}

void Session::read_body() {
    m_phase = Phase::body;
    set_deadline(m_server.setup.limits.body);
    http::async_read(m_socket, m_buffer, *m_parser,
                     [self = shared_from_this()](Fault fault, std::size_t) { self->body_read(fault); });
}

void Session::body_read(Fault fault) {
    if (m_phase == Phase::closed)
        return;
    if (fault || m_too_slow)
        return refuse_fault(fault);
    m_request->body = std::move(m_parser->get().body());
    dispatch();
}

/// A request that did not come whole: why, where there is somebody to tell.
void Session::refuse_fault(Fault fault) {
    const HttpLimits& limits = m_server.setup.limits;
    if (m_server.stopping && !m_too_slow)
        return close();
    if (m_too_slow)
        return reply(error_reply(408, "limit", "the request took too long to come"), false);
    if (fault == http::error::header_limit || fault == http::error::buffer_overflow)
        return reply(error_reply(431, "limit",
                                 fmt::format("a request's head may have {} kB", limits.head_bytes / 1024)),
                     false);
    if (fault == http::error::body_limit)
        return reply(error_reply(413, "limit",
                                 fmt::format("a request's body may have {} kB", limits.body_bytes / 1024)),
                     false);
    if (fault == http::error::end_of_stream || fault == http::error::partial_message ||
        fault.category() != http::make_error_code(http::error::bad_method).category())
        return close();
    reply(error_reply(400, "input", "this is no HTTP request"), false);
}

// --- a session: answering ---

void Session::hold_wrong_token() {
    m_phase = Phase::held;
    set_deadline(m_server.wrong_tokens.delay_after_wrong(m_client, Clock::now()));
    watch();
}

void Session::dispatch() {
    if (!m_request->path.starts_with("/api/"))
        return reply(own_reply());
    m_phase = Phase::working;
    m_timer.cancel();
    watch();
    if (!m_server.work(shared_from_this(), m_request)) {
        HttpReply busy = error_reply(503, "io", "the server has too much to do", "try again in a moment");
        busy.headers.emplace_back("Retry-After", "2");
        reply(std::move(busy));
    }
}

HttpReply Session::own_reply() const {
    const std::string& path = m_request->path;
    const PageFile* file = find_page_file(path);
    const bool known = file != nullptr || path == "/" || path == "/health" || path == "/metrics";
    if (!known)
        return error_reply(404, "not_found", "there is nothing at this address");
    if (m_request->method != "GET")
        return method_not_allowed("GET, HEAD");
    if (path == "/health")
        return {.body = "{\"ok\":true}\n"};
    if (path == "/metrics")
        return {.content_type = "text/plain; version=0.0.4; charset=utf-8",
                .body = m_server.metrics.text(m_server.state())};
    if (file != nullptr)
        return page_reply(*file, *m_request);
    return {.content_type = "text/plain; charset=utf-8",
            .body = "This loamway was built without its page (LOAMWAY_PAGE=OFF); /api/1/ answers.\n"};
}

void Session::reply(HttpReply reply, bool keep) {
    if (m_phase == Phase::closed)
        return;
    m_phase = Phase::writing;
    m_keep_alive = m_keep_alive && keep && !m_server.stopping;
    m_status = reply.status;
    std::string head = reply_head(reply, reply.body.size(), {.keep_alive = m_keep_alive});
    m_complete = true;
    const bool bodiless = m_head_only || reply.status == 204 || reply.status == 304;
    if (bodiless || reply.body.empty())
        return send(std::move(head));
    m_sent = reply.body.size();
    if (reply.body.size() < slice_bytes)
        return send(std::move(head) + reply.body);  // one packet for what is short
    m_out.push_back(std::move(head));
    send(std::move(reply.body));
}

void Session::begin_stream(std::string_view content_type) {
    if (m_phase == Phase::closed)
        return;
    m_streaming = true;
    m_keep_alive = m_keep_alive && !m_old_form && !m_server.stopping;
    HttpReply reply;
    reply.content_type = content_type;
    m_status = reply.status;
    send(reply_head(reply, std::nullopt, {.keep_alive = m_keep_alive, .chunked = !m_old_form}));
}

void Session::write_stream(std::string piece) {
    if (m_phase == Phase::closed)
        return;
    m_sent += piece.size();
    if (m_head_only) {
        const std::lock_guard lock(m_room_mutex);
        m_backlog = 0;
        return;
    }
    send(m_old_form ? std::move(piece) : chunk(piece));
}

void Session::end_stream() {
    if (m_phase == Phase::closed)
        return;
    m_phase = Phase::writing;
    m_complete = true;
    send(m_old_form || m_head_only ? std::string() : std::string(last_chunk));
}

void Session::abort() {
    if (m_phase == Phase::closed)
        return;
    note_access();
    close();
}

bool Session::reserve(std::size_t bytes) {
    std::unique_lock lock(m_room_mutex);
    m_room.wait(lock, [this] { return m_gone || m_backlog < stream_backlog; });
    if (m_gone)
        return false;
    m_backlog += bytes;
    return true;
}

void Session::send(std::string bytes) {
    if (!bytes.empty())
        m_out.push_back(std::move(bytes));
    if (!m_writing)
        write_slice();
}

void Session::write_slice() {
    if (m_out.empty()) {
        const std::lock_guard lock(m_room_mutex);
        m_backlog = 0;
        m_room.notify_all();
    }
    if (m_out.empty())
        return m_complete ? answered() : static_cast<void>(m_timer.cancel());
    m_writing = true;
    set_deadline(m_server.setup.limits.write);
    const std::string& first = m_out.front();
    const std::size_t bytes = std::min(slice_bytes, first.size() - m_out_done);
    net::async_write(m_socket, net::buffer(first.data() + m_out_done, bytes),
                     [self = shared_from_this()](Fault fault, std::size_t n) { self->written(fault, n); });
}

void Session::written(Fault fault, std::size_t bytes) {
    m_writing = false;
    if (m_phase == Phase::closed)
        return;
    if (fault) {
        note_access();
        return close();
    }
    m_out_done += bytes;
    if (m_out_done == m_out.front().size()) {
        m_out.pop_front();
        m_out_done = 0;
    }
    write_slice();
}

void Session::answered() {
    note_access();
    m_keep_alive && !m_server.stopping ? await_request() : part();
}

void Session::note_access() {
    if (m_status == 0)
        return;
    const double seconds = std::chrono::duration<double>(Clock::now() - m_begun).count();
    const std::string_view path = m_request ? std::string_view(m_request->path) : std::string_view();
    m_server.metrics.count(route_class(path), m_status, seconds);
    if (m_server.log)
        m_server.log(access_line({.at = std::chrono::system_clock::now(),
                                  .client = m_client,
                                  .method = m_head_only ? "HEAD"
                                            : m_request ? m_request->method
                                                        : "-",
                                  .path = path.empty() ? "-" : path,
                                  .status = m_status,
                                  .bytes = m_head_only ? 0 : m_sent,
                                  .milliseconds = seconds * 1000}));
    m_status = 0;
}

// --- a session: its end ---

void Session::mark_gone() {
    const std::lock_guard lock(m_room_mutex);
    m_gone = true;
    m_room.notify_all();
}

void Session::stop(bool at_once) {
    if (at_once || m_phase == Phase::idle || m_phase == Phase::head || m_phase == Phase::body)
        close();
}

/// Says that nothing more comes and reads what the client still sends: a connection closed over unread bytes
/// would take the reply with it.
void Session::part() {
    if (m_phase == Phase::closed)
        return;
    m_phase = Phase::parting;
    mark_gone();
    Fault unused;
    m_socket.shutdown(tcp::socket::shutdown_send, unused);
    if (m_end_seen)
        return close();
    set_deadline(farewell);
    m_buffer.consume(m_buffer.size());
    if (m_watching)
        m_socket.cancel(unused);
    drain();
}

void Session::drain() {
    m_socket.async_wait(tcp::socket::wait_read, [self = shared_from_this()](Fault fault) {
        if (self->m_phase == Phase::closed)
            return;
        std::array<char, 16 * 1024> away{};
        Fault read_fault = fault;
        if (!fault)
            self->m_socket.read_some(net::buffer(away), read_fault);
        read_fault ? self->close() : self->drain();
    });
}

void Session::close() {
    if (m_phase == Phase::closed)
        return;
    m_phase = Phase::closed;
    mark_gone();
    m_timer.cancel();
    Fault unused;
    m_socket.close(unused);
    m_server.forget(shared_from_this());
}

}  // namespace

// --- the server ---

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
    auto session = std::make_shared<Session>(*this, std::move(socket), peer.address().to_string());
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

void HttpServer::Inside::forget(const std::shared_ptr<Session>& session) {
    m_sessions.erase(session);
    if (stopping && m_sessions.empty()) {
        m_timer.cancel();
        m_alive.reset();
    }
}

bool HttpServer::Inside::work(const std::shared_ptr<Session>& session,
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
        const std::vector<std::shared_ptr<Session>> all(m_sessions.begin(), m_sessions.end());
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
