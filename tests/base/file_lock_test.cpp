// SPDX-License-Identifier: Apache-2.0
#include "loamway/base/file_lock.h"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>

#include "loamway/base/error.h"
#include "support/test_files.h"

namespace loamway {
namespace {

TEST(FileLock, OneProcessAtATimeAndNoLongerThanItLives) {
    const test::TempDir folder;
    const std::string file = folder.file("a.geojson");
    int ends[2];
    ASSERT_EQ(::pipe(ends), 0);
    const pid_t child = ::fork();
    if (child == 0) {
        const FileLock lock(file);
        (void)!::write(ends[1], "x", 1);
        ::pause();
        std::_Exit(0);
    }
    char held = 0;
    ASSERT_EQ(::read(ends[0], &held, 1), 1);
    try {
        const FileLock second(file, Duration::from_seconds(0.05));
        ADD_FAILURE() << "two held the lock";
    } catch (const Error& e) {
        EXPECT_EQ(e.kind(), ErrorKind::io);
        EXPECT_NE(std::string(e.what()).find("another program has been changing this file"),
                  std::string::npos);
    }
    ::kill(child, SIGKILL);
    ::waitpid(child, nullptr, 0);
    EXPECT_NO_THROW(FileLock(file, Duration::from_seconds(5)));
}

}  // namespace
}  // namespace loamway
