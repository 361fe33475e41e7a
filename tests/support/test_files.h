// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_TESTS_SUPPORT_TEST_FILES_H
#define LOAMWAY_TESTS_SUPPORT_TEST_FILES_H

// Files that tests read and write.

#include <filesystem>
#include <string>
#include <string_view>

namespace loamway::test {

/// A file of the source tree, named from its root: source_path("tests/base/data/sun.json").
[[nodiscard]] std::string source_path(std::string_view relative);

/// The whole file, byte for byte; throws std::runtime_error when it cannot be read.
[[nodiscard]] std::string slurp(const std::string& path);

/// A folder of its own for one test, removed with everything in it at the end.
class TempDir {
public:
    TempDir();
    TempDir(const TempDir&) = delete;
    TempDir& operator=(const TempDir&) = delete;
    ~TempDir();
    [[nodiscard]] std::string path() const { return m_path.string(); }
    /// The path of a file in the folder; the file need not exist.
    [[nodiscard]] std::string file(std::string_view name) const { return (m_path / name).string(); }
    /// Writes a file in the folder and returns its path.
    std::string write(std::string_view name, std::string_view bytes) const;
    /// How many entries the folder holds.
    [[nodiscard]] std::size_t entries() const;

private:
    std::filesystem::path m_path;
};

}  // namespace loamway::test

#endif
