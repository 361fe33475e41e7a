// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_FAULTS_REGION_IN_MEMORY_H
#define LOAMWAY_TESTS_FAULTS_REGION_IN_MEMORY_H

// A file that lies in memory and is opened by its name like any other: a hundred thousand damaged versions of
// it cost no disk.

#include <cstddef>
#include <string>

namespace loamway::test {

class FileInMemory {
public:
    explicit FileInMemory(std::string whole);
    FileInMemory(const FileInMemory&) = delete;
    FileInMemory& operator=(const FileInMemory&) = delete;
    ~FileInMemory();

    [[nodiscard]] const std::string& path() const { return m_path; }
    [[nodiscard]] std::size_t size() const { return m_whole.size(); }
    /// Turns these bits over; the same again turns them back.
    void flip(std::size_t at, unsigned char bits);
    void cut(std::size_t length);
    void make_whole();

private:
    std::string m_whole, m_path;
    int m_fd = -1;
};

/// The bytes of the invented county's region with a name nobody reads, which makes the file large enough to
/// be mapped.
[[nodiscard]] std::string large_region();

}  // namespace loamway::test

#endif
