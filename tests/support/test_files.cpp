// SPDX-License-Identifier: Apache-2.0
#include "support/test_files.h"

#include <stdlib.h>

#include <fstream>
#include <iterator>
#include <stdexcept>
#include <system_error>

namespace loamway::test {

std::string source_path(std::string_view relative) {
    return (std::filesystem::path(LOAMWAY_SOURCE_DIR) / relative).string();
}

std::string slurp(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in)
        throw std::runtime_error("cannot read " + path);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

TempDir::TempDir() {
    // mkdtemp wants six X at the end and replaces them.
    std::string pattern =
        (std::filesystem::temp_directory_path() / ("loamway-test-" + std::string(6, 'X'))).string();
    if (mkdtemp(pattern.data()) == nullptr)
        throw std::system_error(errno, std::generic_category(), pattern);
    m_path = pattern;
}

TempDir::~TempDir() {
    std::error_code ignored;
    std::filesystem::remove_all(m_path, ignored);
}

std::string TempDir::write(std::string_view name, std::string_view bytes) const {
    const std::filesystem::path path = m_path / name;
    std::filesystem::create_directories(path.parent_path());
    std::ofstream out(path, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out)
        throw std::runtime_error("cannot write " + path.string());
    return path.string();
}

std::size_t TempDir::entries() const {
    const std::filesystem::directory_iterator all(m_path);
    return static_cast<std::size_t>(std::distance(begin(all), end(all)));
}

}  // namespace loamway::test
