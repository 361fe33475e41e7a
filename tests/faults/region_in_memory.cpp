// SPDX-License-Identifier: Apache-2.0
#include "region_in_memory.h"

#include <sys/mman.h>
#include <sys/types.h>
#include <unistd.h>

#include <stdexcept>
#include <utility>

#include "loamway/build/build.h"
#include "support/region_bytes.h"
#include "support/test_files.h"

namespace loamway::test {

FileInMemory::FileInMemory(std::string whole)
    : m_whole(std::move(whole)), m_fd(::memfd_create("whole", MFD_CLOEXEC)) {
    // Other processes of this user may open it too.
    m_path = "/proc/" + std::to_string(::getpid()) + "/fd/" + std::to_string(m_fd);
    make_whole();
}

FileInMemory::~FileInMemory() {
    ::close(m_fd);
}

void FileInMemory::flip(std::size_t at, unsigned char bits) {
    unsigned char byte = 0;
    const auto where = static_cast<off_t>(at);
    const bool read = ::pread(m_fd, &byte, 1, where) == 1;
    byte ^= bits;
    if (!read || ::pwrite(m_fd, &byte, 1, where) != 1)
        throw std::runtime_error("memory cannot be changed");
}

void FileInMemory::cut(std::size_t length) {
    if (::ftruncate(m_fd, static_cast<off_t>(length)) != 0)
        throw std::runtime_error("memory cannot be cut");
}

void FileInMemory::make_whole() {
    cut(m_whole.size());
    for (std::size_t done = 0; done < m_whole.size();) {
        const ssize_t n =
            ::pwrite(m_fd, m_whole.data() + done, m_whole.size() - done, static_cast<off_t>(done));
        if (n <= 0)
            throw std::runtime_error("no memory for a file");
        done += static_cast<std::size_t>(n);
    }
}

std::string large_region() {
    RegionData data = assemble(read_extract(source_path("regions/demo/demo.osm.pbf"), {}), {}, "demo", {});
    data.string_bytes.resize(data.string_bytes.size() + (std::size_t{257} << 20), 'a');
    data.string_first.push_back(static_cast<std::uint32_t>(data.string_bytes.size()));
    const Bytes bytes = region_bytes(data);
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

}  // namespace loamway::test
