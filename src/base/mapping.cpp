// SPDX-License-Identifier: Apache-2.0
#include "mapping.h"

#include <fcntl.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "descriptor.h"
#include "loamway/base/error.h"
#include "loamway/base/mapped_files.h"
#include "loamway/base/names.h"

namespace loamway {

namespace {

constexpr std::size_t longest_name = 400;

/// Plain numbers and letters, because a signal handler reads them.
struct Mapping {
    enum State : int { unused, being_filled, filled };
    std::atomic<int> state{unused};
    int fd = -1;  // of its own
    const void* begin = nullptr;
    std::size_t size = 0;
    timespec written{};
    std::array<char, longest_name + 1> name{};
};

/// More files than anybody maps at once; one that finds no room is mapped unwatched.
std::array<Mapping, 64> mappings;

Mapping* free_place() {
    for (Mapping& m : mappings) {
        int expected = Mapping::unused;
        if (m.state.compare_exchange_strong(expected, Mapping::being_filled))
            return &m;
    }
    return nullptr;
}

Mapping* remember(int fd, const std::string& path, const struct stat& info, const void* begin) {
    const int own = ::fcntl(fd, F_DUPFD_CLOEXEC, 3);
    Mapping* m = own < 0 ? nullptr : free_place();
    if (m == nullptr) {
        if (own >= 0)
            ::close(own);
        return nullptr;
    }
    m->fd = own;
    m->begin = begin;
    m->size = static_cast<std::size_t>(info.st_size);
    m->written = info.st_mtim;
    const std::string shown = printable(path);
    *std::copy_n(shown.begin(), std::min(shown.size(), longest_name), m->name.begin()) = '\0';
    m->state = Mapping::filled;
    return m;
}

void forget(Mapping* m) {
    if (m == nullptr)
        return;
    m->state = Mapping::being_filled;
    ::close(std::exchange(m->fd, -1));
    m->state = Mapping::unused;
}

bool was_changed(const Mapping& m) {
    struct stat now {};
    return ::fstat(m.fd, &now) == 0 &&
           (static_cast<std::size_t>(now.st_size) != m.size || now.st_mtim.tv_sec != m.written.tv_sec ||
            now.st_mtim.tv_nsec != m.written.tv_nsec);
}

bool holds(const Mapping& m, const void* address) {
    const auto at = reinterpret_cast<std::uintptr_t>(address);
    const auto begin = reinterpret_cast<std::uintptr_t>(m.begin);
    return address != nullptr && at >= begin && at - begin < m.size;
}

}  // namespace

std::shared_ptr<const void> map_whole(int fd, const std::string& path, const struct stat& info) {
    const auto size = static_cast<std::size_t>(info.st_size);
    void* memory = ::mmap(nullptr, size, PROT_READ, MAP_SHARED, fd, 0);
    if (memory == MAP_FAILED)
        throw io_error(path, "map", errno);
    Mapping* watched = remember(fd, path, info, memory);
    return {memory, [size, watched](const void* p) {
                forget(watched);
                ::munmap(const_cast<void*>(p), size);
            }};
}

const char* lost_mapped_file(const void* address) noexcept {
    for (const Mapping& m : mappings)
        if (m.state == Mapping::filled && (was_changed(m) || holds(m, address)))
            return m.name.data();
    return nullptr;
}

void require_mapped_unchanged() {
    if (const char* name = lost_mapped_file())
        throw Error(ErrorKind::damaged, "this file was cut or changed while it was in use",
                    "put files in place by renaming them, then start again", {name, {}, {}});
}

}  // namespace loamway
