// SPDX-License-Identifier: Apache-2.0
// Many moves on the invented county: the same answers in the same order whatever the threads, the shards and
// the stops on the way. The oracle is answering each line alone.
#include "loamway/batch/batch.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "loamway/base/error.h"
#include "loamway/base/file.h"
#include "support/demo_region.h"
#include "support/test_files.h"

namespace loamway {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

class Batch : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        s_dir = new test::TempDir();
        test::write_demo_region(s_dir->file("demo.region"));
        ShelfSetup setup;
        setup.region = s_dir->file("demo.region");
        setup.places = test::source_path("regions/demo/places.geojson");
        s_shelf = new Shelf(setup);
        const char* ends[] = {"Nettle Farm yard", "Long Forty", "Crooked Eighty", "Kettle Quarter"};
        for (int i = 0; i < 12; ++i)
            s_lines.push_back(std::string(R"({"id":"m)") + std::to_string(i) + R"(","from":")" + ends[i % 4] +
                              R"(","to":")" + ends[(i + 1 + i / 4) % 4] +
                              R"(","machine":"medium","trials":20,"depart":"2026-07-14T09:00"})");
        s_lines[3] = "{no json";
        s_lines[4] = R"({"id":7,"from":"Nettle Farm yard","to":"nowhere at all","machine":"medium"})";
        s_lines[5] = R"({"from":"Nettle Farm yard"})";
        s_lines[6] = R"({"id":{"a":1}})";
        s_lines[7] =
            R"({"id":"\"error\":{\"kind\":","from":"Long Forty","to":"Kettle Quarter","machine":"medium","trials":20,"depart":"2026-07-14T09:00"})";
    }
    static void TearDownTestSuite() {
        delete s_shelf;
        delete s_dir;
    }
    static BatchSetup setup(unsigned threads = 2) {
        BatchSetup s;
        s.threads = threads;
        s.window = 3;
        s.choices = false;
        s.at = parse_time("2026-07-14T08:00:00Z", TimeZone());
        return s;
    }
    static std::vector<std::string> answers(const BatchSetup& s, BatchSums* sums = nullptr) {
        std::size_t next = 0;
        std::vector<std::string> out;
        const BatchSums all = run_batch(
            *s_shelf, s,
            [&]() -> std::optional<std::string> {
                return next < s_lines.size() ? std::optional(s_lines[next++]) : std::nullopt;
            },
            [&](const std::string& answer, const BatchSums&) { out.push_back(answer); });
        if (sums != nullptr)
            *sums = all;
        return out;
    }
    static std::vector<std::string> one_by_one() {
        std::vector<std::string> out;
        for (std::size_t i = 0; i < s_lines.size(); ++i)
            out.push_back(answer_line(*s_shelf, setup(), s_lines[i], i + 1));
        return out;
    }
    static inline test::TempDir* s_dir = nullptr;
    static inline Shelf* s_shelf = nullptr;
    static inline std::vector<std::string> s_lines;
};

TEST_F(Batch, OrderAndAnswersDoNotDependOnThreads) {
    const std::vector<std::string> alone = one_by_one();
    BatchSums sums;
    EXPECT_EQ(answers(setup(1), &sums), alone);
    EXPECT_EQ(answers(setup(4)), alone);
    EXPECT_EQ(sums.faults, 4u);
    EXPECT_EQ(sums.answered, 8u);
}

TEST_F(Batch, BadLinesAreAnsweredWithWhatIsWrong) {
    const std::vector<std::string> all = one_by_one();
    EXPECT_THAT(all[3], StartsWith(R"({"id":null,"error":{"kind":"input","message":"line 4)"));
    EXPECT_THAT(all[4], StartsWith(R"({"id":7,"error":{"kind":"not_found","message":"line 5)"));
    EXPECT_THAT(all[5], HasSubstr("the move has no id"));
    EXPECT_THAT(all[6], HasSubstr("neither a text nor a whole number"));
    EXPECT_TRUE(is_fault(all[4]));
    // An id may look like an error without being one.
    EXPECT_FALSE(is_fault(all[7]));
    EXPECT_THAT(all[7], HasSubstr(R"("plan":{)"));
}

TEST_F(Batch, ShardsTogetherAreTheWhole) {
    const std::vector<std::string> alone = one_by_one();
    std::vector<std::string> together(alone.size());
    for (std::uint64_t i = 1; i <= 5; ++i) {
        BatchSetup s = setup();
        s.shard = i;
        s.shards = 5;
        const std::vector<std::string> part = answers(s);
        for (std::size_t k = 0; k < part.size(); ++k)
            together[k * 5 + i - 1] = part[k];
    }
    EXPECT_EQ(together, alone);
}

// Cut anywhere, even within a line, a run goes on to the very same bytes. After a line whose id is neither a
// text nor a number it once refused: the answer says null, which was compared with what the line says.
TEST_F(Batch, ResumesFromEveryCut) {
    std::string whole;
    for (const std::string& line : one_by_one())
        whole += line + "\n";
    const std::string path = s_dir->file("cut.jsonl");
    std::vector<std::size_t> cuts{0, 1, whole.find('\n'), whole.size() / 2, whole.size() - 1};
    for (std::size_t end = whole.find('\n'); end != std::string::npos; end = whole.find('\n', end + 1))
        cuts.push_back(end + 1);
    for (const std::size_t cut : cuts) {
        write_file(path, whole.substr(0, cut));
        BatchSetup s = setup();
        s.done = find_done(path);
        std::ofstream out(path, std::ios::app | std::ios::binary);
        for (const std::string& answer : answers(s))
            out << answer << "\n";
        out.close();
        EXPECT_EQ(read_text_file(path), whole) << cut;
    }
}

TEST_F(Batch, ResumingWithOtherMovesIsRefused) {
    BatchSetup s = setup();
    s.done = {3, R"({"id":"other","plan":{}})"};
    EXPECT_THROW((void)answers(s), Error);
    s.done = {1000, R"({"id":"m0","plan":{}})"};
    EXPECT_THROW((void)answers(s), Error);
    const std::string path = s_dir->file("text.txt");
    write_file(path, "my own notes\n");
    EXPECT_THROW((void)find_done(path), Error);
    EXPECT_EQ(read_text_file(path), "my own notes\n");
    EXPECT_EQ(find_done(s_dir->file("nothing")).lines, 0u);
}

TEST_F(Batch, AFullDiskEndsTheRun) {
    std::size_t next = 0, written = 0;
    EXPECT_THROW((void)run_batch(
                     *s_shelf, setup(),
                     [&]() -> std::optional<std::string> { return s_lines[next++ % s_lines.size()]; },
                     [&](const std::string&, const BatchSums&) {
                         if (++written == 5)
                             throw Error(ErrorKind::io, "disk full");
                     }),
                 Error);
    EXPECT_EQ(written, 5u);
    // Never more than the window is read ahead of what is written.
    EXPECT_LE(next, written + 3 + 1);
}

TEST_F(Batch, TheSummaryHasTheAdvisedOptionsFigures) {
    const std::vector<std::string> all = one_by_one();
    EXPECT_THAT(summary_header(), StartsWith("id,option,mode,sentence,"));
    const Value plan = parse_json(all[0], "answer");
    const std::string sentence = *plan.find("plan")->find("verdict")->find("sentence")->as_string();
    EXPECT_THAT(summary_row(all[0]), StartsWith("m0,"));
    EXPECT_THAT(summary_row(all[0]), HasSubstr("\"" + sentence + "\""));
    EXPECT_THAT(summary_row(all[4]), HasSubstr("nowhere at all"));
    const auto commas = [](const std::string& s) { return std::count(s.begin(), s.end(), ','); };
    EXPECT_EQ(commas(summary_row(all[5])), commas(summary_header()));
}

}  // namespace
}  // namespace loamway
