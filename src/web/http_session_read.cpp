// SPDX-License-Identifier: Apache-2.0
// Takes requests: waits for them, their head, who asks, their body.
#include <fmt/format.h>

#include <utility>

#include "http_session.h"
#include "loamway/base/names.h"
#include "wire.h"

namespace loamway {

void HttpSession::await_request() {
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
/// early stays in the buffer, and then nothing more is read until its turn. A client that ended its sending
/// alone cannot be told from one that left: handlers hear "gone", which ends long work, but an answer that
/// comes all the same is sent.
void HttpSession::watch() {
    if (m_watching || m_end_seen || m_buffer.size() > 0)
        return;
    m_watching = true;
    m_socket.async_read_some(
        m_buffer.prepare(4096),
        [self = shared_from_this()](Fault fault, std::size_t bytes) { self->watched(fault, bytes); });
}

void HttpSession::watched(Fault fault, std::size_t bytes) {
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

void HttpSession::read_head() {
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

void HttpSession::head_read(Fault fault) {
    if (m_phase == Phase::closed)
        return;
    if (fault || m_too_slow)
        return refuse_fault(fault);
    if (auto refusal = take_head())
        return reply(std::move(*refusal), false);
    const TokenState token = token_state(*m_request, m_server.guard);
    const bool judged = token == TokenState::right || token == TokenState::wrong;
    if (judged && m_server.wrong_tokens.is_waiting(m_client, Clock::now()))
        return reply(too_many_tokens(), false);
    switch (token) {
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

std::optional<HttpReply> HttpSession::take_head() {
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

void HttpSession::read_body() {
    m_phase = Phase::body;
    set_deadline(m_server.setup.limits.body);
    http::async_read(m_socket, m_buffer, *m_parser,
                     [self = shared_from_this()](Fault fault, std::size_t) { self->body_read(fault); });
}

void HttpSession::body_read(Fault fault) {
    if (m_phase == Phase::closed)
        return;
    if (fault || m_too_slow)
        return refuse_fault(fault);
    m_request->body = std::move(m_parser->get().body());
    dispatch();
}

/// A request that did not come whole: why, where there is somebody to tell.
void HttpSession::refuse_fault(Fault fault) {
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

void HttpSession::hold_wrong_token() {
    m_phase = Phase::held;
    set_deadline(m_server.wrong_tokens.delay_after_wrong(m_client, Clock::now()));
    watch();
}

}  // namespace loamway
