// SPDX-License-Identifier: Apache-2.0
// A disk that fills up while a region is written: one io Error, the old file as it was, nothing else left.
// The limit on file sizes stands in for the full disk, in a child process of its own.
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "drawn_region.h"
#include "loamway/base/error.h"
#include "support/region_bytes.h"
#include "support/test_files.h"

namespace loamway {
namespace {

enum Outcome : int { written = 0, io_error = 10, other_error = 11, no_limit = 12 };

int write_within(rlim_t limit, const std::string& path) {
    const pid_t child = fork();
    if (child == 0) {
        const rlimit r{limit, limit};
        std::signal(SIGXFSZ, SIG_IGN);
        if (setrlimit(RLIMIT_FSIZE, &r) != 0)
            _exit(no_limit);
        try {
            write_region(test::drawn_region(), path);
        } catch (const Error& e) {
            _exit(e.kind() == ErrorKind::io ? io_error : other_error);
        }
        _exit(written);
    }
    int status = -1;
    EXPECT_EQ(waitpid(child, &status, 0), child);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST(RegionDiskFull, NothingIsLeftBehind) {
    const std::size_t size = test::region_bytes(test::drawn_region()).size();
    for (const std::size_t limit :
         {std::size_t{0}, std::size_t{10}, std::size_t{64}, head_size, size - 64, size - 1}) {
        const test::TempDir dir;
        EXPECT_EQ(write_within(limit, dir.file("a.region")), io_error) << limit;
        EXPECT_EQ(dir.entries(), 0u) << limit;
        const std::string old = dir.write("old.region", "as it was");
        EXPECT_EQ(write_within(limit, old), io_error) << limit;
        EXPECT_EQ(dir.entries(), 1u) << limit;
        EXPECT_EQ(test::slurp(old), "as it was") << limit;
    }
}

TEST(RegionDiskFull, JustEnoughRoomIsEnough) {
    const test::TempDir dir;
    const std::size_t size = test::region_bytes(test::drawn_region()).size();
    EXPECT_EQ(write_within(size, dir.file("a.region")), written);
    verify_region(dir.file("a.region"));
}

TEST(RegionDiskFull, FolderThatIsNotThere) {
    const test::TempDir dir;
    try {
        write_region(test::drawn_region(), dir.file("none/a.region"));
        FAIL();
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::io) << e.what();
    }
}

}  // namespace
}  // namespace loamway
