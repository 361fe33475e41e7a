// SPDX-License-Identifier: Apache-2.0
#include "descriptor.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <system_error>

namespace loamway {

namespace {

// One call moves at most this much: the kernel's own limit is just below 2 GiB.
constexpr std::size_t most_at_once = std::size_t{1} << 30;

std::string cure_for(int number) {
    switch (number) {
        case ENOSPC:
        case EDQUOT:
            return "free some space or name another folder";
        case EACCES:
        case EPERM:
            return "check the permissions of the file and its folder";
        case EROFS:
            return "name a folder that can be written";
        case ENOENT:
        case ENOTDIR:
            return "make the folder first";
        default:
            return {};
    }
}

}  // namespace

Error io_error(const std::string& path, const std::string& doing, int number) {
    return {ErrorKind::io, "cannot " + doing + ": " + std::generic_category().message(number),
            cure_for(number), ErrorPlace{path, {}, {}}};
}

int open_for_reading(const std::string& path) {
    const int fd = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (fd < 0) {
        if (errno == ENOENT || errno == ENOTDIR)
            throw Error(ErrorKind::not_found, "no such file", "check the name", {path, {}, {}});
        throw io_error(path, "read", errno);
    }
    struct stat info {};
    if (::fstat(fd, &info) == 0 && S_ISDIR(info.st_mode)) {
        ::close(fd);
        throw Error(ErrorKind::input, "this is a folder", "name a file", {path, {}, {}});
    }
    return fd;
}

std::size_t read_some(int fd, const std::string& path, std::byte* into, std::size_t most) {
    std::size_t done = 0;
    while (done < most) {
        const ssize_t n = ::read(fd, into + done, std::min(most - done, most_at_once));
        if (n == 0)
            break;
        if (n > 0)
            done += static_cast<std::size_t>(n);
        else if (errno != EINTR)
            throw io_error(path, "read", errno);
    }
    return done;
}

void write_all(int fd, const std::string& path, const std::byte* from, std::size_t size) {
    std::size_t done = 0;
    while (done < size) {
        const ssize_t n = ::write(fd, from + done, std::min(size - done, most_at_once));
        if (n >= 0)
            done += static_cast<std::size_t>(n);
        else if (errno != EINTR)
            throw io_error(path, "write", errno);
    }
}

}  // namespace loamway
