// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/file_lock.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <filesystem>
#include <thread>

#include "loamway/base/error.h"

namespace loamway {

FileLock::FileLock(const std::string& path, Duration wait) {
    std::string folder = std::filesystem::path(path).parent_path().string();
    if (folder.empty())
        folder = ".";
    m_fd = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (m_fd < 0)
        throw Error(ErrorKind::io, "the folder of this file cannot be opened", "look at its permissions",
                    {path, {}, {}});
    const auto until = std::chrono::steady_clock::now() + std::chrono::duration<double>(wait.seconds());
    while (::flock(m_fd, LOCK_EX | LOCK_NB) != 0) {
        const bool held = errno == EWOULDBLOCK || errno == EINTR;
        if (!held || std::chrono::steady_clock::now() >= until) {
            ::close(m_fd);
            throw Error(
                ErrorKind::io,
                held ? fmt::format("another program has been changing this file for {:g} s", wait.seconds())
                     : std::string("this file cannot be locked"),
                "try again", {path, {}, {}});
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
}

FileLock::~FileLock() {
    if (m_fd >= 0)
        ::close(m_fd);
}

}  // namespace loamway
