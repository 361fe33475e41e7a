// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_WEB_HTTP_ANSWER_H
#define LOAMWAY_SRC_WEB_HTTP_ANSWER_H

#include <memory>
#include <string>
#include <string_view>
#include <utility>

#include "http_session.h"

namespace loamway {

/// A handler's end of a session, on a worker's thread.
class Answer : public Exchange {
public:
    Answer(net::io_context& context, std::shared_ptr<HttpSession> session)
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
    std::shared_ptr<HttpSession> m_session;
    State m_state = State::open;
};

}  // namespace loamway

#endif
