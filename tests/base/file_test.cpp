// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/file.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "loamway/base/error.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using test::slurp;
using test::TempDir;

template <class F>
Error error_of(F&& f) {
    try {
        f();
    } catch (const Error& e) {
        return e;
    }
    return {ErrorKind::internal, "no error was thrown"};
}

std::span<const std::byte> bytes_of(std::string_view s) {
    return std::as_bytes(std::span(s.data(), s.size()));
}

TEST(plain_path, addresses_and_virtual_file_systems_are_refused) {
    for (const char* path : {"", "http://a/b", "https://a/b", "s3://b/k", "file:///etc/passwd", "PG:dbname=x",
                             "/vsizip/a.zip", "/vsicurl/http://x", "/VSIstdin/", "file:x"}) {
        const Error e = error_of([&] { require_plain_path(path); });
        EXPECT_EQ(e.kind(), ErrorKind::input) << path;
        EXPECT_EQ(e.place().file, path);
    }
    EXPECT_EQ(error_of([] { require_plain_path(std::string("a\0b", 3)); }).kind(), ErrorKind::input);
}

TEST(plain_path, local_names_are_accepted) {
    for (const char* path :
         {"a.toml", "./notes:2026.toml", "/data/a:b", "dir/http://x", "-", ":x", "C:x", "a b:c"})
        EXPECT_NO_THROW(require_plain_path(path)) << path;
}

TEST(read_text_file, reads_all_of_it_up_to_the_limit) {
    const TempDir dir;
    const std::string text = std::string(200000, 'x') + '\0' + "end";
    const std::string path = dir.write("a", text);
    EXPECT_EQ(read_text_file(path), text);
    EXPECT_EQ(read_text_file(path, text.size()), text);
    const Error e = error_of([&] { static_cast<void>(read_text_file(path, text.size() - 1)); });
    EXPECT_EQ(e.kind(), ErrorKind::limit);
    EXPECT_EQ(e.place().file, path);
    EXPECT_EQ(read_text_file(dir.write("empty", "")), "");
    EXPECT_EQ(error_of([] { static_cast<void>(read_text_file("/dev/zero", 100000)); }).kind(),
              ErrorKind::limit);
}

TEST(read_text_file, says_what_is_wrong) {
    const TempDir dir;
    const Error missing = error_of([&] { static_cast<void>(read_text_file(dir.file("none"))); });
    EXPECT_EQ(missing.kind(), ErrorKind::not_found);
    EXPECT_EQ(missing.what(), dir.file("none") + ": no such file (check the name)");
    const std::string file = dir.write("a", "x");
    EXPECT_EQ(error_of([&] { static_cast<void>(read_text_file(file + "/b")); }).kind(), ErrorKind::not_found);
    const Error folder = error_of([&] { static_cast<void>(read_text_file(dir.path())); });
    EXPECT_EQ(folder.what(), dir.path() + ": this is a folder (name a file)");
    EXPECT_EQ(error_of([] { static_cast<void>(read_text_file("http://x/y")); }).kind(), ErrorKind::input);
}

TEST(read_text_file, a_dash_is_standard_input) {
    int ends[2];
    ASSERT_EQ(pipe(ends), 0);
    const int kept = dup(STDIN_FILENO);
    ASSERT_EQ(write(ends[1], "from a pipe", 11), 11);
    close(ends[1]);
    dup2(ends[0], STDIN_FILENO);
    close(ends[0]);
    const std::string text = read_text_file("-");
    dup2(kept, STDIN_FILENO);
    close(kept);
    EXPECT_EQ(text, "from a pipe");
}

TEST(write_file, whole_new_file_and_nothing_else) {
    const TempDir dir;
    write_file(dir.file("a.json"), "first");
    EXPECT_EQ(slurp(dir.file("a.json")), "first");
    write_file(dir.file("a.json"), "second, longer");
    EXPECT_EQ(slurp(dir.file("a.json")), "second, longer");
    write_file(dir.file("empty"), "");
    EXPECT_EQ(slurp(dir.file("empty")), "");
    EXPECT_EQ(dir.entries(), 2u);
}

TEST(write_file, a_long_name_still_has_room_for_the_temporary_one) {
    const TempDir dir;
    const std::string path = dir.file(std::string(250, 'n'));
    write_file(path, "x");
    EXPECT_EQ(slurp(path), "x");
}

TEST(write_file, keeps_the_mode_and_the_link) {
    const TempDir dir;
    const std::string real = dir.write("real", "old");
    chmod(real.c_str(), 0640);
    std::filesystem::create_symlink("real", dir.file("link"));
    write_file(dir.file("link"), "new");
    EXPECT_TRUE(std::filesystem::is_symlink(dir.file("link")));
    EXPECT_EQ(slurp(real), "new");
    struct stat info {};
    ASSERT_EQ(stat(real.c_str(), &info), 0);
    EXPECT_EQ(info.st_mode & 0777u, 0640u);
}

TEST(write_file, errors_name_the_path_as_it_was_given) {
    const TempDir dir;
    const std::string path = dir.path() + "/./a";
    dir.write("a", "old");
    const Error e = error_of([&] {
        AtomicFile file(path);
        file.commit();
        file.commit();
    });
    EXPECT_EQ(e.place().file, path);
}

TEST(write_file, errors_name_the_path_and_the_reason) {
    const TempDir dir;
    const Error no_folder = error_of([&] { write_file(dir.file("no/such/a"), "x"); });
    EXPECT_EQ(no_folder.kind(), ErrorKind::io);
    EXPECT_EQ(no_folder.what(),
              dir.file("no/such/a") + ": cannot write: No such file or directory (make the folder first)");
    const std::string file = dir.write("f", "x");
    EXPECT_EQ(error_of([&] { write_file(file + "/a", "x"); }).kind(), ErrorKind::io);
    EXPECT_EQ(error_of([&] { write_file(dir.path(), "x"); }).what(),
              dir.path() + ": this is a folder (name a file in it)");
    EXPECT_EQ(dir.entries(), 1u);
}

/// Root may do anything: a process of root's works as another user while this lives.
class Unprivileged {
public:
    Unprivileged() : m_user(geteuid()) {
        if (m_user == 0)
            m_changed = seteuid(65534) == 0;
    }
    Unprivileged(const Unprivileged&) = delete;
    Unprivileged& operator=(const Unprivileged&) = delete;
    ~Unprivileged() {
        if (m_changed && seteuid(m_user) != 0)
            std::abort();
    }

private:
    uid_t m_user;
    bool m_changed = false;
};

TEST(write_file, without_permission_nothing_changes) {
    const TempDir dir;
    const std::string path = dir.write("a", "old");
    chmod(path.c_str(), 0);
    chmod(dir.path().c_str(), 0555);
    const Error write = error_of([&] {
        const Unprivileged user;
        write_file(path, "new");
    });
    const Error read = error_of([&] {
        const Unprivileged user;
        static_cast<void>(read_text_file(path));
    });
    chmod(dir.path().c_str(), 0755);
    chmod(path.c_str(), 0644);
    const std::string hint = "Permission denied (check the permissions of the file and its folder)";
    EXPECT_EQ(write.kind(), ErrorKind::io);
    EXPECT_EQ(write.what(), path + ": cannot write: " + hint);
    EXPECT_EQ(read.kind(), ErrorKind::io);
    EXPECT_EQ(read.what(), path + ": cannot read: " + hint);
    EXPECT_EQ(slurp(path), "old");
    EXPECT_EQ(dir.entries(), 1u);
}

// A device must stay a device: replacing /dev/null by a file would be worse than any failed write.
TEST(write_file, writes_into_devices_instead_of_replacing_them) {
    write_file("/dev/null", "x");
    EXPECT_TRUE(std::filesystem::is_character_file("/dev/null"));
    const Error full = error_of([] { write_file("/dev/full", "x"); });
    EXPECT_STREQ(full.what(),
                 "/dev/full: cannot write: No space left on device (free some space or name another folder)");
    EXPECT_EQ(full.kind(), ErrorKind::io);
    EXPECT_EQ(error_of([] { const AtomicFile f("/dev/null"); }).kind(), ErrorKind::input);
}

/// Files of this process may not grow beyond the limit while this lives.
class SmallFiles {
public:
    explicit SmallFiles(rlim_t bytes) {
        getrlimit(RLIMIT_FSIZE, &m_old);
        m_signal = signal(SIGXFSZ, SIG_IGN);
        const rlimit now{bytes, m_old.rlim_max};
        setrlimit(RLIMIT_FSIZE, &now);
    }
    SmallFiles(const SmallFiles&) = delete;
    SmallFiles& operator=(const SmallFiles&) = delete;
    ~SmallFiles() {
        setrlimit(RLIMIT_FSIZE, &m_old);
        signal(SIGXFSZ, m_signal);
    }

private:
    rlimit m_old{};
    void (*m_signal)(int) = SIG_DFL;
};

TEST(write_file, a_write_that_fails_half_way_leaves_the_old_file_alone) {
    const TempDir dir;
    const std::string path = dir.write("a", "old");
    const Error e = error_of([&] {
        const SmallFiles limit(4096);
        write_file(path, std::string(100000, 'x'));
    });
    EXPECT_EQ(e.kind(), ErrorKind::io);
    EXPECT_EQ(e.what(), path + ": cannot write: File too large");
    EXPECT_EQ(slurp(path), "old");
    EXPECT_EQ(dir.entries(), 1u);
}

TEST(atomic_file, nothing_appears_without_commit) {
    const TempDir dir;
    {
        AtomicFile file(dir.file("a.region"));
        file.write(bytes_of("half"));
        EXPECT_EQ(dir.entries(), 1u);
        EXPECT_FALSE(std::filesystem::exists(dir.file("a.region")));
    }
    EXPECT_EQ(dir.entries(), 0u);
}

TEST(atomic_file, pieces_come_together) {
    const TempDir dir;
    AtomicFile file(dir.file("a"));
    file.write(bytes_of("one "));
    file.write({});
    file.write(bytes_of("two"));
    file.commit();
    EXPECT_EQ(slurp(dir.file("a")), "one two");
    EXPECT_EQ(dir.entries(), 1u);
    EXPECT_EQ(error_of([&] { file.commit(); }).kind(), ErrorKind::internal);
    EXPECT_EQ(error_of([&] { file.write(bytes_of("x")); }).kind(), ErrorKind::internal);
}

TEST(atomic_file, a_library_may_replace_the_temporary_file_by_name) {
    const TempDir dir;
    AtomicFile file(dir.file("out.gpkg"));
    EXPECT_TRUE(file.temporary_path().ends_with("out.gpkg"));
    EXPECT_EQ(std::filesystem::path(file.temporary_path()).parent_path(), dir.path());
    std::filesystem::remove(file.temporary_path());
    std::ofstream(file.temporary_path()) << "by name";
    file.commit();
    EXPECT_EQ(slurp(dir.file("out.gpkg")), "by name");
    EXPECT_EQ(dir.entries(), 1u);
}

TEST(atomic_file, two_at_once_do_not_meet) {
    const TempDir dir;
    AtomicFile first(dir.file("a"));
    AtomicFile second(dir.file("a"));
    EXPECT_NE(first.temporary_path(), second.temporary_path());
    first.write(bytes_of("first"));
    second.write(bytes_of("second"));
    second.commit();
    first.commit();
    EXPECT_EQ(slurp(dir.file("a")), "first");
    EXPECT_EQ(dir.entries(), 1u);
}

TEST(atomic_file, a_failed_rename_leaves_nothing_behind) {
    const TempDir dir;
    {
        AtomicFile file(dir.file("a"));
        file.write(bytes_of("x"));
        std::filesystem::create_directory(dir.file("a"));
        const Error e = error_of([&] { file.commit(); });
        EXPECT_EQ(e.kind(), ErrorKind::io);
        EXPECT_EQ(e.what(), dir.file("a") + ": cannot write: Is a directory");
    }
    EXPECT_EQ(dir.entries(), 1u);  // the folder
}

TEST(atomic_file, a_process_that_dies_leaves_the_old_file) {
    const TempDir dir;
    const std::string path = dir.write("a", "old");
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        AtomicFile file(path);
        file.write(bytes_of("half of the new"));
        _exit(7);
    }
    int status = 0;
    ASSERT_EQ(waitpid(child, &status, 0), child);
    ASSERT_EQ(WEXITSTATUS(status), 7);
    EXPECT_EQ(slurp(path), "old");
}

/// The number of a process that is no more.
pid_t dead_process() {
    const pid_t child = ::fork();
    if (child == 0)
        ::_exit(0);
    int status = 0;
    ::waitpid(child, &status, 0);
    return child;
}

// They stayed for ever.
TEST(atomic_file, what_killed_writers_of_the_same_file_left_is_removed) {
    const TempDir dir;
    const std::string dead = ".tmp-" + std::to_string(dead_process());
    const std::string long_name = std::string(150, 'n') + ".txt";
    for (const std::string& name : {std::string("a.txt"), long_name}) {
        const std::string kept = name.substr(name.size() - std::min<std::size_t>(name.size(), 80));
        const std::vector<std::string> left{dead + "-0-" + kept, dead + "-17-" + kept,
                                            dead + "-0-" + kept + "-journal"};
        const std::vector<std::string> others{dead + "-0-b.txt",         dead + "-0-aa.txt",
                                              dead + "-0-" + kept + "x", dead + "-" + kept,
                                              dead + "x-0-" + kept,      ".tmp--1-0-" + kept,
                                              ".tmp-1-0-" + kept,        dead.substr(1) + "-0-" + kept};
        for (const auto& names : {left, others})
            for (const std::string& each : names)
                dir.write(each, "half");
        const AtomicFile being_written(dir.file(name));
        write_file(dir.file(name), "whole");
        EXPECT_EQ(slurp(dir.file(name)), "whole");
        for (const std::string& each : left)
            EXPECT_FALSE(std::filesystem::exists(dir.file(each))) << each;
        for (const std::string& each : others)
            EXPECT_TRUE(std::filesystem::exists(dir.file(each))) << each;
        EXPECT_TRUE(std::filesystem::exists(being_written.temporary_path()));
    }
}

// On another machine or in another container it has a number that means nothing here.
TEST(atomic_file, what_somebody_still_writes_is_not_removed) {
    const TempDir dir;
    std::optional<AtomicFile> elsewhere(std::in_place, dir.file("a.txt"));
    const std::string own = elsewhere->temporary_path();
    const std::string renamed = dir.file(".tmp-" + std::to_string(dead_process()) + "-0-a.txt");
    std::filesystem::rename(own, renamed);
    write_file(dir.file("a.txt"), "one");
    EXPECT_TRUE(std::filesystem::exists(renamed));
    elsewhere.reset();
    write_file(dir.file("a.txt"), "two");
    EXPECT_FALSE(std::filesystem::exists(renamed));
}

TEST(file_bytes, reads_and_maps_the_same_bytes_aligned) {
    const TempDir dir;
    std::string text(100001, '\0');
    for (std::size_t i = 0; i < text.size(); ++i)
        text[i] = static_cast<char>(i * 31);
    const std::string path = dir.write("a", text);
    const FileBytes read(path);
    const FileBytes mapped(path, 0);
    for (const auto& bytes : {read.bytes(), mapped.bytes()}) {
        ASSERT_EQ(bytes.size(), text.size());
        EXPECT_EQ(std::memcmp(bytes.data(), text.data(), text.size()), 0);
        EXPECT_EQ(reinterpret_cast<std::uintptr_t>(bytes.data()) % 64, 0u);
    }
}

TEST(file_bytes, copies_share_and_outlive_the_file) {
    const TempDir dir;
    const std::string path = dir.write("a", "content");
    FileBytes kept;
    {
        const FileBytes first(path, 0);
        kept = first;
        EXPECT_EQ(kept.bytes().data(), first.bytes().data());
    }
    std::filesystem::remove(path);
    EXPECT_EQ(std::memcmp(kept.bytes().data(), "content", 7), 0);
}

TEST(file_bytes, empty_missing_and_odd_files) {
    const TempDir dir;
    EXPECT_TRUE(FileBytes(dir.write("empty", "")).bytes().empty());
    EXPECT_TRUE(FileBytes().bytes().empty());
    EXPECT_EQ(error_of([&] { FileBytes b(dir.file("none")); }).kind(), ErrorKind::not_found);
    EXPECT_EQ(error_of([&] { FileBytes b(dir.path()); }).kind(), ErrorKind::input);
    EXPECT_EQ(error_of([] { FileBytes b("/dev/zero"); }).kind(), ErrorKind::input);
}

}  // namespace
}  // namespace loamway
