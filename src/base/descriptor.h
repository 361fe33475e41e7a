// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_SRC_BASE_DESCRIPTOR_H
#define LOAMWAY_SRC_BASE_DESCRIPTOR_H

// Small helpers around POSIX file descriptors, shared by the readers and the writers.

#include <unistd.h>

#include <cstddef>
#include <string>
#include <utility>

#include "loamway/base/error.h"

namespace loamway {

/// Closes on the way out.
class Descriptor {
public:
    explicit Descriptor(int fd) : m_fd(fd) {}
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    ~Descriptor() {
        if (m_fd >= 0)
            ::close(m_fd);
    }
    [[nodiscard]] int get() const { return m_fd; }

private:
    int m_fd;
};

/// An io Error "cannot DO: reason" for errno's value `number`, with a hint for the reasons people can cure.
[[nodiscard]] Error io_error(const std::string& path, const std::string& doing, int number);

/// Opens for reading: not_found when there is no such file, io otherwise; a folder is refused.
[[nodiscard]] int open_for_reading(const std::string& path);

/// Reads until `most` bytes or the end; how many came.
[[nodiscard]] std::size_t read_some(int fd, const std::string& path, std::byte* into, std::size_t most);

/// Writes all of it or throws.
void write_all(int fd, const std::string& path, const std::byte* from, std::size_t size);

}  // namespace loamway

#endif
