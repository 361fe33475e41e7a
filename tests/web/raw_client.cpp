// SPDX-License-Identifier: Apache-2.0
#include "raw_client.h"

#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <stdexcept>
#include <utility>

namespace loamway {

RawClient::RawClient(std::uint16_t port) : m_socket(::socket(AF_INET, SOCK_STREAM, 0)) {
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(port);
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    if (::connect(m_socket, reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0) {
        close();
        throw std::runtime_error("no connection");
    }
}

void RawClient::send(std::string_view bytes) const {
    while (!bytes.empty()) {
        const ssize_t n = ::send(m_socket, bytes.data(), bytes.size(), MSG_NOSIGNAL);
        if (n <= 0)
            return;
        bytes.remove_prefix(static_cast<std::size_t>(n));
    }
}

void RawClient::finish_sending() const {
    ::shutdown(m_socket, SHUT_WR);
}

bool RawClient::read_some() {
    std::array<char, 65536> bytes{};
    const ssize_t n = ::recv(m_socket, bytes.data(), bytes.size(), 0);
    if (n > 0)
        m_read.append(bytes.data(), static_cast<std::size_t>(n));
    return n > 0;
}

std::string RawClient::read_all() {
    while (read_some()) {
    }
    return std::exchange(m_read, {});
}

std::string RawClient::read_until(std::string_view mark) {
    std::size_t at = 0;
    while ((at = m_read.find(mark)) == std::string::npos)
        if (!read_some())
            return std::exchange(m_read, {});
    std::string out = m_read.substr(0, at + mark.size());
    m_read.erase(0, out.size());
    return out;
}

std::string RawClient::read_reply() {
    std::string out = read_until("\r\n\r\n");
    constexpr std::string_view name = "Content-Length: ";
    const std::size_t at = out.find(name);
    if (at == std::string::npos)
        return out;
    std::size_t length = 0;
    std::from_chars(out.data() + at + name.size(), out.data() + out.size(), length);
    while (m_read.size() < length && read_some()) {
    }
    const std::size_t taken = std::min(length, m_read.size());
    out += m_read.substr(0, taken);
    m_read.erase(0, taken);
    return out;
}

void RawClient::close() {
    if (m_socket >= 0)
        ::close(m_socket);
    m_socket = -1;
}

int status_of(std::string_view reply) {
    int status = 0;
    if (reply.starts_with("HTTP/1.1 ") && reply.size() > 12)
        std::from_chars(reply.data() + 9, reply.data() + 12, status);
    return status;
}

}  // namespace loamway
