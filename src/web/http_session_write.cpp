// SPDX-License-Identifier: Apache-2.0
// Answers requests: at once what is the server's own, by a worker what lies under /api/; whole or as a
// stream.
#include <algorithm>
#include <string_view>
#include <utility>

#include "http_session.h"
#include "page_files.h"
#include "wire.h"

namespace loamway {

void HttpSession::dispatch() {
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

HttpReply HttpSession::own_reply() const {
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

void HttpSession::reply(HttpReply reply, bool keep) {
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

void HttpSession::begin_stream(std::string_view content_type) {
    if (m_phase == Phase::closed)
        return;
    m_streaming = true;
    m_keep_alive = m_keep_alive && !m_old_form && !m_server.stopping;
    HttpReply reply;
    reply.content_type = content_type;
    m_status = reply.status;
    send(reply_head(reply, std::nullopt, {.keep_alive = m_keep_alive, .chunked = !m_old_form}));
}

void HttpSession::write_stream(std::string piece) {
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

void HttpSession::end_stream() {
    if (m_phase == Phase::closed)
        return;
    m_phase = Phase::writing;
    m_complete = true;
    send(m_old_form || m_head_only ? std::string() : std::string(last_chunk));
}

void HttpSession::abort() {
    if (m_phase == Phase::closed)
        return;
    note_access();
    close();
}

bool HttpSession::reserve(std::size_t bytes) {
    std::unique_lock lock(m_room_mutex);
    m_room.wait(lock, [this] { return m_gone || m_backlog < stream_backlog; });
    if (m_gone)
        return false;
    m_backlog += bytes;
    return true;
}

void HttpSession::send(std::string bytes) {
    if (!bytes.empty())
        m_out.push_back(std::move(bytes));
    if (!m_writing)
        write_slice();
}

void HttpSession::write_slice() {
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

void HttpSession::written(Fault fault, std::size_t bytes) {
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

void HttpSession::answered() {
    note_access();
    m_keep_alive && !m_server.stopping ? await_request() : part();
}

void HttpSession::note_access() {
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

}  // namespace loamway
