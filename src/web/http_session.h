// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_HTTP_SESSION_H
#define LOAMWAY_SRC_WEB_HTTP_SESSION_H

// One connection, from request to request: http_session_read.cpp takes requests, http_session_write.cpp
// answers them, http_session.cpp keeps time and ends.

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <mutex>
#include <optional>
#include <string>

#include "http_inside.h"

namespace loamway {

constexpr std::size_t slice_bytes = 64 * 1024;      // written under one deadline
constexpr std::size_t stream_backlog = 256 * 1024;  // a handler waits beyond

/// Every function runs on the server's thread, but gone() and
/// reserve().
class HttpSession : public std::enable_shared_from_this<HttpSession> {
public:
    HttpSession(HttpServer::Inside& server, tcp::socket socket, std::string client);

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

}  // namespace loamway

#endif
