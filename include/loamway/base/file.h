// SPDX-License-Identifier: Apache-2.0
#ifndef LOAMWAY_BASE_FILE_H
#define LOAMWAY_BASE_FILE_H

// Files: whole reads with a size limit, and writing that leaves the whole new file or the old state.

#include <cstddef>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <string_view>

namespace loamway {

/// Refuses what is not a plain local path: names with a scheme ("http://..."), virtual file systems
/// ("/vsi..."), empty names. Input Error with the file as its place.
void require_plain_path(const std::string& path);

/// The whole file; "-" reads standard input. Errors: not_found (no such file), io, limit.
[[nodiscard]] std::string read_text_file(const std::string& path, std::size_t max_bytes = 64u << 20);

/// Writes to a temporary name in the same folder, fsyncs, renames. "-" writes to standard output. On any
/// failure the temporary file is gone, an older file is untouched, and an io Error says why.
void write_file(const std::string& path, std::string_view bytes);

/// The same for a file made in pieces. Follows symbolic links: the file behind them is replaced. Refuses
/// folders, devices and pipes (write_file writes straight into the latter two).
class AtomicFile {
public:
    explicit AtomicFile(std::string path);
    AtomicFile(const AtomicFile&) = delete;
    AtomicFile& operator=(const AtomicFile&) = delete;
    ~AtomicFile();  // removes the temporary file unless committed
    void write(std::span<const std::byte> bytes);
    void commit();
    /// For libraries that write by name: the temporary path, with the ending of the final one. commit() then
    /// fsyncs and renames it.
    [[nodiscard]] const std::string& temporary_path() const { return m_temporary; }

private:
    std::string m_path;
    std::string m_temporary;
    int m_fd = -1;
};

/// A file's bytes, read (below `read_below`) or mapped read-only. Aligned to at least 64 bytes.
class FileBytes {
public:
    FileBytes() = default;
    explicit FileBytes(const std::string& path, std::size_t read_below = std::size_t{256} << 20);
    [[nodiscard]] std::span<const std::byte> bytes() const { return m_bytes; }

private:
    std::shared_ptr<const void> m_owner;
    std::span<const std::byte> m_bytes;
};

/// Long work tells how far it is through this; the library itself never prints.
using Progress = std::function<void(std::string_view stage, double fraction)>;

}  // namespace loamway

#endif
