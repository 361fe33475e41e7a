// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/file.h"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <new>

#include "descriptor.h"
#include "loamway/base/error.h"
#include "loamway/base/names.h"
#include "mapping.h"

namespace loamway {

namespace {

constexpr std::size_t alignment = 64;

[[noreturn]] void refuse(const std::string& path, std::string what, std::string what_to_do) {
    throw Error(ErrorKind::input, std::move(what), std::move(what_to_do), {path, {}, {}});
}

/// "http:", "PG:": a word before a colon, before any slash. Such names make other libraries open a
/// network connection, a database or another program.
bool has_scheme(const std::string& path) {
    const auto colon = path.find(':');
    if (colon == std::string::npos || colon < 2 || path.find('/') < colon)
        return false;
    return std::all_of(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(colon), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '+' ||
               c == '-' || c == '.' || c == '_';
    });
}

std::string read_all(int fd, const std::string& path, std::size_t max_bytes) {
    constexpr std::size_t chunk = std::size_t{1} << 16;
    struct stat info {};
    const bool sized = ::fstat(fd, &info) == 0 && S_ISREG(info.st_mode) && info.st_size > 0;
    const std::size_t expected = sized ? static_cast<std::size_t>(info.st_size) : 0;
    std::string text;
    std::size_t have = 0;
    while (have <= max_bytes) {
        // One byte more than allowed is enough to know that there is too much.
        const std::size_t room =
            std::min(max_bytes - have + 1, std::max(chunk, expected + 1 - std::min(have, expected)));
        text.resize(have + room);
        const std::size_t got = read_some(fd, path, reinterpret_cast<std::byte*>(text.data()) + have, room);
        have += got;
        if (got < room)
            break;
    }
    if (have > max_bytes)
        throw Error(ErrorKind::limit, fmt::format("this is larger than {} bytes", max_bytes),
                    "give a smaller file", {path, {}, {}});
    text.resize(have);
    return text;
}

std::shared_ptr<const void> read_aligned(int fd, const std::string& path, std::size_t size) {
    auto* memory = static_cast<std::byte*>(::operator new (size, std::align_val_t{alignment}));
    std::shared_ptr<const void> owner(
        memory, [](const void* p) { ::operator delete (const_cast<void*>(p), std::align_val_t{alignment}); });
    if (read_some(fd, path, memory, size) != size)
        throw Error(ErrorKind::io, "the file became shorter while it was read", "try again", {path, {}, {}});
    return owner;
}

}  // namespace

void require_plain_path(const std::string& path) {
    if (path.empty())
        refuse(path, "a file name is empty", "name a file");
    if (path.find('\0') != std::string::npos)
        refuse(path, "a file name holds a zero byte", "name a local file");
    if (has_scheme(path))
        refuse(path, "this is an address, not a plain local file name",
               "fetch the file first; for a local name with a colon write ./ before it");
    if (ascii_lower(path).starts_with("/vsi"))
        refuse(path, "virtual file systems are not read", "name a plain local file");
}

std::string read_text_file(const std::string& path, std::size_t max_bytes) {
    if (path == "-")
        return read_all(STDIN_FILENO, "-", max_bytes);
    require_plain_path(path);
    const Descriptor file(open_for_reading(path));
    return read_all(file.get(), path, max_bytes);
}

FileBytes::FileBytes(const std::string& path, std::size_t read_below) {
    require_plain_path(path);
    const Descriptor file(open_for_reading(path));
    struct stat info {};
    if (::fstat(file.get(), &info) != 0)
        throw io_error(path, "read", errno);
    if (!S_ISREG(info.st_mode))
        refuse(path, "this is not a regular file", "name a file on disk");
    const auto size = static_cast<std::size_t>(info.st_size);
    if (size == 0)
        return;
    m_owner = size < read_below ? read_aligned(file.get(), path, size) : map_whole(file.get(), path, info);
    m_bytes = {static_cast<const std::byte*>(m_owner.get()), size};
}

}  // namespace loamway
