// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SERVER_SERVED_H
#define LOAMWAY_TESTS_SERVER_SERVED_H

// `loamway serve` as a process of its own, and connections to it.

#include <sys/types.h>

#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>

namespace loamway::server_fuzz {

class Served {
public:
    /// Starts the program and waits for its address; std::runtime_error when it does not come.
    Served(const std::string& program, const std::string& region, std::string_view token);
    Served(const Served&) = delete;
    Served& operator=(const Served&) = delete;
    ~Served();

    [[nodiscard]] std::uint16_t port() const { return m_port; }
    [[nodiscard]] bool runs();
    /// Of /proc/PID/status, in kB: "VmRSS" now, "VmHWM" at most.
    [[nodiscard]] long memory_kb(std::string_view what) const;
    /// Asks it to end; its exit status, -1 when a signal ended it.
    int stop();

private:
    pid_t m_process = -1;
    std::uint16_t m_port = 0;
    int m_status = 0;
};

/// One connection, from an address of this machine: 127.0.0.`from`.
class Wire {
public:
    Wire(std::uint16_t port, std::uint8_t from);
    Wire(Wire&& other) noexcept;
    Wire(const Wire&) = delete;
    Wire& operator=(const Wire&) = delete;
    ~Wire();

    /// What the server no longer takes is dropped.
    void send(std::string_view bytes) const;
    void finish_sending() const;
    /// All until the server closes; std::runtime_error when it does neither for a minute.
    [[nodiscard]] std::string read_all() const;
    /// One whole answer, or what came until the server closed.
    [[nodiscard]] std::string read_one() const;

private:
    [[nodiscard]] bool read_some(std::string& into) const;
    int m_socket;
};

}  // namespace loamway::server_fuzz

#endif
