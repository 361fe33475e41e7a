// SPDX-License-Identifier: Apache-2.0
#include "served.h"

#include <fcntl.h>
#include <netinet/in.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <charconv>
#include <fstream>
#include <stdexcept>
#include <utility>

#include "answers.h"

namespace loamway::server_fuzz {

namespace {

std::string first_line(int file) {
    std::string out;
    for (char c = 0; ::read(file, &c, 1) == 1 && c != '\n';)
        out += c;
    return out;
}

}  // namespace

Served::Served(const std::string& program, const std::string& region, std::string_view token) {
    int ends[2];
    if (::pipe(ends) != 0)
        throw std::runtime_error("no pipe");
    m_process = ::fork();
    if (m_process == 0) {
        ::dup2(ends[1], STDOUT_FILENO);
        ::close(ends[0]);
        ::close(ends[1]);
        const std::string key(token);
        ::execl(program.c_str(), program.c_str(), "serve", "--region", region.c_str(), "--port", "0",
                "--token", key.c_str(), "--quiet", static_cast<char*>(nullptr));
        ::_exit(127);
    }
    ::close(ends[1]);
    const std::string address = first_line(ends[0]);
    ::close(ends[0]);
    // "http://127.0.0.1:PORT/#key=..."
    const std::size_t colon = address.find(':', 6);
    if (colon != std::string::npos)
        std::from_chars(address.data() + colon + 1, address.data() + address.size(), m_port);
    if (m_port == 0) {
        stop();
        throw std::runtime_error("the server does not start: " + address);
    }
}

Served::~Served() {
    stop();
}

bool Served::runs() {
    if (m_process > 0 && ::waitpid(m_process, &m_status, WNOHANG) != 0)
        m_process = -1;
    return m_process > 0;
}

long Served::memory_kb(std::string_view what) const {
    std::ifstream in("/proc/" + std::to_string(m_process) + "/status");
    for (std::string line; std::getline(in, line);)
        if (line.starts_with(what))
            return std::stol(line.substr(what.size() + 1));
    return 0;
}

int Served::stop() {
    if (runs()) {
        ::kill(m_process, SIGTERM);
        ::waitpid(m_process, &m_status, 0);
        m_process = -1;
    }
    return WIFEXITED(m_status) ? WEXITSTATUS(m_status) : -1;
}

Wire::Wire(std::uint16_t port, std::uint8_t from) : m_socket(::socket(AF_INET, SOCK_STREAM, 0)) {
    const timeval limit{60, 0};
    const int on = 1;
    ::setsockopt(m_socket, SOL_SOCKET, SO_RCVTIMEO, &limit, sizeof limit);
    ::setsockopt(m_socket, SOL_SOCKET, SO_SNDTIMEO, &limit, sizeof limit);
    // Many connections a second use up the ports of one address.
    ::setsockopt(m_socket, IPPROTO_IP, IP_BIND_ADDRESS_NO_PORT, &on, sizeof on);
    sockaddr_in own{}, other{};
    own.sin_family = other.sin_family = AF_INET;
    own.sin_addr.s_addr = htonl(0x7f000000u + from);
    other.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    other.sin_port = htons(port);
    if (::bind(m_socket, reinterpret_cast<const sockaddr*>(&own), sizeof own) != 0 ||
        ::connect(m_socket, reinterpret_cast<const sockaddr*>(&other), sizeof other) != 0) {
        ::close(m_socket);
        throw std::runtime_error("no connection");
    }
}

Wire::Wire(Wire&& other) noexcept : m_socket(std::exchange(other.m_socket, -1)) {}

Wire::~Wire() {
    if (m_socket >= 0)
        ::close(m_socket);
}

void Wire::send(std::string_view bytes) const {
    while (!bytes.empty()) {
        const ssize_t n = ::send(m_socket, bytes.data(), bytes.size(), MSG_NOSIGNAL);
        if (n <= 0)
            return;
        bytes.remove_prefix(static_cast<std::size_t>(n));
    }
}

void Wire::finish_sending() const {
    ::shutdown(m_socket, SHUT_WR);
}

bool Wire::read_some(std::string& into) const {
    std::array<char, 65536> bytes;
    const ssize_t n = ::recv(m_socket, bytes.data(), bytes.size(), 0);
    if (n < 0 && (errno == EAGAIN || errno == EWOULDBLOCK))
        throw std::runtime_error("neither an answer nor an end within a minute");
    if (n > 0)
        into.append(bytes.data(), static_cast<std::size_t>(n));
    return n > 0;
}

std::string Wire::read_all() const {
    std::string out;
    while (read_some(out)) {
    }
    return out;
}

std::string Wire::read_one() const {
    std::string out;
    while (!holds_one(out) && read_some(out)) {
    }
    return out;
}

}  // namespace loamway::server_fuzz
