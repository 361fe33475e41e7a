// SPDX-License-Identifier: Apache-2.0
// A region that is mapped (from 256 MB on) while somebody cuts it, writes into it, or puts another in its
// place: one line and status 1, or nothing at all happens. It was a bare SIGBUS, or answers from changed
// roads.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <thread>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "loamway/base/mapped_files.h"
#include "program.h"
#include "region_in_memory.h"

namespace loamway {
namespace {

using test::FileInMemory;
using test::large_region;

class LostRegion : public ::testing::Test {
protected:
    static constexpr const char* move =
        R"({"id":"m","from":"Nettle Farm yard","to":"Long Forty","machine":"medium","modes":["drive"],"trials":20})";

    void SetUp() override { ASSERT_EQ(::mkfifo(m_moves.c_str(), 0600), 0); }

    /// A batch that has answered a move when `change` comes, and then gets another.
    test::Ran batch_meets(const std::function<void()>& change) {
        test::Ran ran;
        std::thread run([&] {
            ran = test::run_program({"batch", "--region", m_file.path(), "--places",
                                     test::source_path("regions/demo/places.geojson"), "--threads", "1", "-o",
                                     m_dir.file("answers")},
                                    {.input = m_moves});
        });
        const int to = ::open(m_moves.c_str(), O_WRONLY | O_CLOEXEC);
        say(to);
        for (int i = 0; i < 6000 && answers() == 0; ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        EXPECT_EQ(answers(), 1);
        change();
        say(to);
        ::close(to);
        run.join();
        return ran;
    }
    void say(int to) const {
        const std::string line = std::string(move) + "\n";
        EXPECT_EQ(::write(to, line.data(), line.size()), static_cast<ssize_t>(line.size()));
    }
    [[nodiscard]] long answers() const {
        const std::string file = m_dir.file("answers");
        if (!std::filesystem::exists(file))
            return 0;
        const std::string text = test::slurp(file);
        EXPECT_EQ(text.find("\"error\""), std::string::npos) << text.substr(0, 500);
        return std::count(text.begin(), text.end(), '\n');
    }

    test::TempDir m_dir;
    std::string m_moves = m_dir.file("moves");
    FileInMemory m_file{large_region()};
};

TEST_F(LostRegion, CutUnderABatch) {
    std::signal(SIGPIPE, SIG_IGN);
    const test::Ran ran = batch_meets([&] { m_file.cut(4096); });
    EXPECT_TRUE(test::failed_clearly(ran, 1)) << ran.status << ", signal " << ran.signal << ": " << ran.err;
    EXPECT_NE(ran.err.find(m_file.path() + ": this file was cut or changed while it was in use"),
              std::string::npos)
        << ran.err;
    EXPECT_EQ(answers(), 1);
}

TEST_F(LostRegion, WrittenIntoUnderABatch) {
    std::signal(SIGPIPE, SIG_IGN);
    const test::Ran ran = batch_meets([&] { m_file.flip(m_file.size() / 2, 1); });
    EXPECT_TRUE(test::failed_clearly(ran, 1)) << ran.status << ", signal " << ran.signal << ": " << ran.err;
    EXPECT_EQ(answers(), 1);
}

// As region build does it: what is mapped stays what it was.
TEST(MappedFiles, AnotherFilePutInItsPlaceIsNoLoss) {
    const test::TempDir dir;
    const std::string path = dir.write("a", "old file");
    const FileBytes mapped(path, 0);
    ASSERT_EQ(mapped.bytes().size(), 8u);
    write_file(path, "new");
    EXPECT_EQ(lost_mapped_file(), nullptr);
    EXPECT_NO_THROW(require_mapped_unchanged());
    EXPECT_EQ(static_cast<char>(mapped.bytes()[0]), 'o');
}

TEST(MappedFiles, ChangesAreNoticedWhileSomebodyHoldsTheFile) {
    const test::TempDir dir;
    const std::string path = dir.write("a\x1b", "old file");
    {
        const FileBytes mapped(path, 0);
        EXPECT_EQ(lost_mapped_file(), nullptr);
        EXPECT_NE(lost_mapped_file(mapped.bytes().data() + 7), nullptr);
        EXPECT_EQ(lost_mapped_file(mapped.bytes().data() + 8), nullptr);
        ASSERT_EQ(::truncate(path.c_str(), 3), 0);
        ASSERT_NE(lost_mapped_file(), nullptr);
        EXPECT_TRUE(test::unprintable_in(lost_mapped_file()).empty());
        try {
            require_mapped_unchanged();
            FAIL();
        } catch (const Error& e) {
            EXPECT_EQ(e.kind(), ErrorKind::damaged);
        }
    }
    EXPECT_EQ(lost_mapped_file(), nullptr) << "nobody holds it any more";
}

}  // namespace
}  // namespace loamway
