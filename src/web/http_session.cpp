// SPDX-License-Identifier: Apache-2.0
#include "http_session.h"

#include <array>
#include <utility>

#include "wire.h"

namespace loamway {

namespace {

constexpr std::chrono::seconds farewell{2};  // for a refused client to read why

}  // namespace

HttpSession::HttpSession(HttpServer::Inside& server, tcp::socket socket, std::string client)
    : m_server(server),
      m_socket(std::move(socket)),
      m_client(std::move(client)),
      m_timer(server.context),
      m_buffer(server.setup.limits.head_bytes + 2 * slice_bytes) {}

void HttpSession::set_deadline(Clock::duration after) {
    m_timer.expires_after(after);
    m_timer.async_wait([self = shared_from_this()](Fault fault) {
        // A timer set again may have been due already: its time says which of the two this is.
        if (!fault && self->m_timer.expiry() <= Clock::now())
            self->deadline_passed();
    });
}

void HttpSession::deadline_passed() {
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

void HttpSession::mark_gone() {
    const std::lock_guard lock(m_room_mutex);
    m_gone = true;
    m_room.notify_all();
}

void HttpSession::stop(bool at_once) {
    if (at_once || m_phase == Phase::idle || m_phase == Phase::head || m_phase == Phase::body)
        close();
}

/// Says that nothing more comes and reads what the client still sends: a connection closed over unread bytes
/// would take the reply with it.
void HttpSession::part() {
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

void HttpSession::drain() {
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

void HttpSession::close() {
    if (m_phase == Phase::closed)
        return;
    m_phase = Phase::closed;
    mark_gone();
    m_timer.cancel();
    Fault unused;
    m_socket.close(unused);
    m_server.forget(shared_from_this());
}

}  // namespace loamway
