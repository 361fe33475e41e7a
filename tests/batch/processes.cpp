// SPDX-License-Identifier: Apache-2.0
#include "processes.h"

#include <arpa/inet.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <netinet/in.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <stdexcept>
#include <thread>
#include <utility>

namespace loamway::test {

namespace {

using namespace std::chrono_literals;

sockaddr_in loopback(int port) {
    sockaddr_in a{};
    a.sin_family = AF_INET;
    a.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    a.sin_port = htons(static_cast<std::uint16_t>(port));
    return a;
}

int free_port() {
    const int s = ::socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in a = loopback(0);
    socklen_t size = sizeof a;
    if (::bind(s, reinterpret_cast<const sockaddr*>(&a), sizeof a) != 0 ||
        ::getsockname(s, reinterpret_cast<sockaddr*>(&a), &size) != 0)
        throw std::runtime_error("no free port");
    ::close(s);
    return ntohs(a.sin_port);
}

[[noreturn]] void become(const std::vector<std::string>& command, const std::string& log,
                         const std::string& input) {
    ::prctl(PR_SET_PDEATHSIG, SIGKILL);
    const int out = ::open(log.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
    const int in = ::open(input.empty() ? "/dev/null" : input.c_str(), O_RDONLY | O_CLOEXEC);
    if (out < 0 || in < 0)
        ::_exit(126);
    ::dup2(in, 0);
    ::dup2(out, 1);
    ::dup2(out, 2);
    std::vector<char*> arguments;
    for (const std::string& one : command)
        arguments.push_back(const_cast<char*>(one.c_str()));
    arguments.push_back(nullptr);
    ::execvp(arguments[0], arguments.data());
    ::_exit(127);
}

}  // namespace

Child::Child(const std::vector<std::string>& command, const std::string& log, const std::string& input) {
    m_pid = ::fork();
    if (m_pid == 0)
        become(command, log, input);
    if (m_pid < 0)
        throw std::runtime_error("no process");
}

Child::Child(Child&& other) noexcept
    : m_pid(std::exchange(other.m_pid, -1)), m_status(std::exchange(other.m_status, -1)) {}

Child& Child::operator=(Child&& other) noexcept {
    std::swap(m_pid, other.m_pid);
    std::swap(m_status, other.m_status);
    return *this;
}

Child::~Child() {
    end(SIGKILL);
}

bool Child::runs() {
    if (m_pid > 0 && ::waitpid(m_pid, &m_status, WNOHANG) == m_pid)
        m_pid = -1;
    return m_pid > 0;
}

void Child::end(int signal) {
    if (m_pid <= 0)
        return;
    ::kill(m_pid, signal);
    ::waitpid(m_pid, &m_status, 0);
    m_pid = -1;
}

int Child::wait(std::chrono::seconds most) {
    const auto end_of_patience = std::chrono::steady_clock::now() + most;
    while (runs() && std::chrono::steady_clock::now() < end_of_patience)
        std::this_thread::sleep_for(10ms);
    end(SIGKILL);
    return WIFEXITED(m_status) ? WEXITSTATUS(m_status) : -1;
}

QueueServer::QueueServer(std::vector<std::string> options) : m_options(std::move(options)) {
    start();
}

void QueueServer::start() {
    for (int attempt = 0; attempt < 5; ++attempt) {
        // Clients know the port from the first start on.
        const bool first = m_port == 0;
        const int port = first ? free_port() : m_port;
        std::vector<std::string> command{"nats-server",        "-a",  "127.0.0.1", "-p",
                                         std::to_string(port), "-js", "-sd",       m_folder.file("moves")};
        command.insert(command.end(), m_options.begin(), m_options.end());
        if (std::filesystem::exists("/usr/sbin/nats-server"))
            command[0] = "/usr/sbin/nats-server";  // not on everybody's path
        m_child = Child(command, m_folder.file("broker.log"));
        m_port = port;
        for (int i = 0; i < 1000 && m_child.runs(); ++i) {
            if (answers())
                return;
            std::this_thread::sleep_for(10ms);
        }
        m_port = first ? 0 : port;
    }
    throw std::runtime_error("no broker (install nats-server): " + slurp(m_folder.file("broker.log")));
}

void QueueServer::kill() {
    m_child.end(SIGKILL);
}

void QueueServer::forget() const {
    std::filesystem::remove_all(m_folder.file("moves"));
}

std::string QueueServer::url(const std::string& user) const {
    return fmt::format("nats://{}{}127.0.0.1:{}", user, user.empty() ? "" : "@", m_port);
}

bool QueueServer::answers() const {
    const int s = ::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    const sockaddr_in a = loopback(m_port);
    const bool ok = ::connect(s, reinterpret_cast<const sockaddr*>(&a), sizeof a) == 0;
    ::close(s);
    return ok;
}

}  // namespace loamway::test
