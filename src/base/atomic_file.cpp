// SPDX-License-Identifier: Apache-2.0
#include <dirent.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <cstdlib>
#include <memory>
#include <utility>

#include "descriptor.h"
#include "loamway/base/error.h"
#include "loamway/base/file.h"

namespace loamway {

namespace {

/// Where a symbolic link leads, so that the link stays and the file behind it is replaced.
/// Any other name stays as it was typed: messages show it.
std::string behind_links(const std::string& path) {
    struct stat info {};
    if (::lstat(path.c_str(), &info) != 0 || !S_ISLNK(info.st_mode))
        return path;
    const std::unique_ptr<char, decltype(&std::free)> real(::realpath(path.c_str(), nullptr), &std::free);
    return real ? std::string(real.get()) : path;
}

std::string folder_of(const std::string& path) {
    const auto slash = path.rfind('/');
    if (slash == std::string::npos)
        return ".";
    return slash == 0 ? "/" : path.substr(0, slash);
}

constexpr std::string_view temporary_start = ".tmp-";

/// The last part of a path, or the end of that.
std::string kept_name(const std::string& path) {
    constexpr std::size_t longest_kept = 80;
    const std::string base = path.substr(path.rfind('/') + 1);
    return base.size() > longest_kept ? base.substr(base.size() - longest_kept) : base;
}

/// Hidden, in the same folder, and with the ending of the final name: libraries choose formats by it.
std::string temporary_name(const std::string& path) {
    static std::atomic<unsigned> counter{0};
    const std::string folder = path.substr(0, path.rfind('/') + 1);
    return fmt::format("{}{}{}-{}-{}", folder, temporary_start, ::getpid(), counter++, kept_name(path));
}

/// The process that wrote the temporary file of this name for a file of that one; 0 for any other name.
pid_t writer_of(std::string_view name, std::string_view kept) {
    constexpr std::string_view beside = "-journal";  // SQLite's, of a file that is a database
    if (!name.starts_with(temporary_start))
        return 0;
    if (name.ends_with(beside) && !kept.ends_with(beside))
        name.remove_suffix(beside.size());
    pid_t pid = 0;
    unsigned count = 0;
    const char* const end = name.data() + name.size();
    const auto [dash, no_pid] = std::from_chars(name.data() + temporary_start.size(), end, pid);
    if (no_pid != std::errc{} || pid <= 0 || dash == end || *dash != '-')
        return 0;
    const auto [next, no_count] = std::from_chars(dash + 1, end, count);
    const bool ours = no_count == std::errc{} && next != end && *next == '-' &&
                      std::string_view(next + 1, static_cast<std::size_t>(end - next - 1)) == kept;
    return ours ? pid : 0;
}

/// Writers hold a shared lock as long as they live, wherever they run; here they are known by their number
/// too.
bool is_dead(pid_t writer, const std::string& path) {
    if (::kill(writer, 0) == 0 || errno != ESRCH)
        return false;
    const Descriptor left(::open(path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC));
    return left.get() >= 0 && ::flock(left.get(), LOCK_EX | LOCK_NB) == 0;
}

struct CloseFolder {
    void operator()(DIR* folder) const { ::closedir(folder); }
};

/// What writers of the same file left who were killed. Whatever hinders it, the file itself is well.
void remove_leftovers(const std::string& path) {
    const std::string folder = folder_of(path), kept = kept_name(path);
    const std::unique_ptr<DIR, CloseFolder> listing(::opendir(folder.c_str()));
    if (!listing)
        return;
    while (const dirent* entry = ::readdir(listing.get())) {
        const pid_t writer = writer_of(entry->d_name, kept);
        const std::string left = fmt::format("{}/{}", folder, entry->d_name);
        if (writer != 0 && is_dead(writer, left))
            ::unlink(left.c_str());
    }
}

enum class Target { absent, regular, special };

Target look_at(const std::string& path) {
    struct stat info {};
    if (::stat(path.c_str(), &info) != 0)
        return Target::absent;
    if (S_ISDIR(info.st_mode))
        throw Error(ErrorKind::input, "this is a folder", "name a file in it", {path, {}, {}});
    return S_ISREG(info.st_mode) ? Target::regular : Target::special;
}

/// A pipe or device has no old state to keep and must not be replaced by a file.
void write_to_special(const std::string& path, std::string_view bytes) {
    const Descriptor file(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
    if (file.get() < 0)
        throw io_error(path, "write", errno);
    write_all(file.get(), path, reinterpret_cast<const std::byte*>(bytes.data()), bytes.size());
}

/// Makes the new name itself durable. Some file systems cannot do this for folders, and a folder may be
/// writable without being readable: the file is whole all the same.
void sync_folder(const std::string& path) {
    const Descriptor folder(::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (folder.get() < 0)
        return;
    if (::fsync(folder.get()) != 0 && errno != EINVAL && errno != ENOTSUP && errno != EBADF)
        throw io_error(path, "write to disk", errno);
}

}  // namespace

void write_file(const std::string& path, std::string_view bytes) {
    const auto* data = reinterpret_cast<const std::byte*>(bytes.data());
    if (path == "-") {
        write_all(STDOUT_FILENO, "standard output", data, bytes.size());
        return;
    }
    require_plain_path(path);
    if (look_at(path) == Target::special) {
        write_to_special(path, bytes);
        return;
    }
    AtomicFile file(path);
    file.write({data, bytes.size()});
    file.commit();
}

AtomicFile::AtomicFile(std::string path) : m_path(std::move(path)) {
    require_plain_path(m_path);
    m_path = behind_links(m_path);
    if (look_at(m_path) == Target::special)
        throw Error(ErrorKind::input, "this is a device or pipe, not a file", "name a file on disk",
                    {m_path, {}, {}});
    do {
        m_temporary = temporary_name(m_path);
        m_fd = ::open(m_temporary.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    } while (m_fd < 0 && errno == EEXIST);
    if (m_fd < 0)
        throw io_error(m_path, "write", errno);
    static_cast<void>(::flock(m_fd, LOCK_SH | LOCK_NB));  // some file systems have no locks
}

AtomicFile::~AtomicFile() {
    if (m_fd >= 0)
        ::close(m_fd);
    if (!m_temporary.empty())
        ::unlink(m_temporary.c_str());
}

void AtomicFile::write(std::span<const std::byte> bytes) {
    if (m_fd < 0)
        throw Error(ErrorKind::internal, "a finished file was written to", {}, {m_path, {}, {}});
    write_all(m_fd, m_path, bytes.data(), bytes.size());
}

void AtomicFile::commit() {
    if (m_fd < 0)
        throw Error(ErrorKind::internal, "a file was finished twice", {}, {m_path, {}, {}});
    if (::fsync(m_fd) != 0)
        throw io_error(m_path, "write to disk", errno);
    // A library that wrote by name may have put another file in place of the one opened here.
    const Descriptor by_name(::open(m_temporary.c_str(), O_RDONLY | O_CLOEXEC));
    if (by_name.get() < 0)
        throw io_error(m_path, "write to disk", errno);
    static_cast<void>(::flock(by_name.get(), LOCK_SH | LOCK_NB));
    // close() reports what a network file system could not store; the descriptor is gone either way.
    if (::close(std::exchange(m_fd, -1)) != 0)
        throw io_error(m_path, "write", errno);
    if (::fsync(by_name.get()) != 0)
        throw io_error(m_path, "write to disk", errno);
    struct stat old {};
    if (::stat(m_path.c_str(), &old) == 0)
        static_cast<void>(::fchmod(by_name.get(), old.st_mode & 0777u));
    if (::rename(m_temporary.c_str(), m_path.c_str()) != 0)
        throw io_error(m_path, "write", errno);
    m_temporary.clear();
    sync_folder(m_path);
    remove_leftovers(m_path);
}

}  // namespace loamway
