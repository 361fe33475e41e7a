// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_WEB_RAW_CLIENT_H
#define LOAMWAY_TESTS_WEB_RAW_CLIENT_H

// A client that sends exactly the bytes it is told to.

#include <cstdint>
#include <string>
#include <string_view>

namespace loamway {

class RawClient {
public:
    explicit RawClient(std::uint16_t port);
    RawClient(const RawClient&) = delete;
    RawClient& operator=(const RawClient&) = delete;
    ~RawClient() { close(); }

    /// What the server no longer takes is dropped.
    void send(std::string_view bytes) const;
    /// All until the server closes.
    [[nodiscard]] std::string read_all();
    /// Until `mark` has come or the server closes; what came after it is kept for the next call.
    [[nodiscard]] std::string read_until(std::string_view mark);
    /// Head and body of one reply with Content-Length.
    [[nodiscard]] std::string read_reply();
    /// Sends nothing more, but reads on.
    void finish_sending() const;
    void close();

private:
    bool read_some();
    int m_socket;
    std::string m_read;
};

/// "HTTP/1.1 404 ..." -> 404; 0 for anything else.
[[nodiscard]] int status_of(std::string_view reply);

}  // namespace loamway

#endif
