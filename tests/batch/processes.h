// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_BATCH_PROCESSES_H
#define LOAMWAY_TESTS_BATCH_PROCESSES_H

// Programs that a test starts, kills and starts again. None outlives the test.

#include <sys/types.h>

#include <chrono>
#include <string>
#include <vector>

#include "support/test_files.h"

namespace loamway::test {

class Child {
public:
    Child() = default;
    /// Standard input from a file (none: empty), both outputs to the end of `log`.
    Child(const std::vector<std::string>& command, const std::string& log, const std::string& input = {});
    Child(Child&& other) noexcept;
    Child& operator=(Child&& other) noexcept;
    ~Child();  // kills it

    [[nodiscard]] bool runs();
    /// Sends a signal and waits for the end.
    void end(int signal);
    /// The exit status; -1 when a signal ended it. Kills it after the time.
    [[nodiscard]] int wait(std::chrono::seconds most);

private:
    pid_t m_pid = -1;
    int m_status = -1;
};

/// A broker on a free loopback port, with its moves in a folder of its own.
class QueueServer {
public:
    explicit QueueServer(std::vector<std::string> options = {});
    void start();
    void kill();
    /// Its disk is gone.
    void forget() const;
    [[nodiscard]] std::string url(const std::string& user = {}) const;

private:
    [[nodiscard]] bool answers() const;
    TempDir m_folder;
    std::vector<std::string> m_options;
    int m_port = 0;
    Child m_child;
};

}  // namespace loamway::test

#endif
