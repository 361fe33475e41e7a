// SPDX-License-Identifier: Apache-2.0
// Runs every tests/cli/*.case against the built program.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "case_file.h"
#include "support/test_files.h"

using namespace loamway::test;

namespace {

std::string joined(const std::vector<std::string>& lines) {
    std::string out;
    for (const std::string& line : lines)
        out += line + "\n";
    return out;
}

std::vector<std::string> case_files() {
    std::vector<std::string> out;
    for (const auto& entry : std::filesystem::directory_iterator(source_path("tests/cli")))
        if (entry.path().extension() == ".case")
            out.push_back(entry.path().stem().string());
    std::sort(out.begin(), out.end());
    return out;
}

class Cases : public ::testing::TestWithParam<std::string> {
protected:
    void run_step(const CaseStep& step) const {
        const std::string script =
            m_dir.write("step.sh", "SOURCE='" + source_path("") +
                                       "'\nPROGRAM='" LOAMWAY_PROGRAM
                                       "'\nloamway() { \"$PROGRAM\" \"$@\"; }\ncd \"$1\" || exit 99\n" +
                                       step.command + "\n");
        const std::string out = m_dir.file("step.out"), err = m_dir.file("step.err");
        const std::string line =
            "sh '" + script + "' '" + m_work + "' >'" + out + "' 2>'" + err + "' </dev/null";
        const int status = std::system(line.c_str());
        ASSERT_TRUE(WIFEXITED(status));
        EXPECT_EQ(WEXITSTATUS(status), step.status);
        expect_lines(step.out, out, "standard output");
        expect_lines(step.err, err, "standard error");
    }
    static void expect_lines(const std::vector<std::string>& wanted, const std::string& file,
                             const char* what) {
        const std::string text = slurp(file);
        EXPECT_TRUE(lines_match(wanted, lines_of(text))) << what << " is\n"
                                                         << text << "and should be\n"
                                                         << joined(wanted);
    }

    TempDir m_dir;
    std::string m_work = m_dir.path() + "/work";
};

TEST_P(Cases, Run) {
    const std::string file = "tests/cli/" + GetParam() + ".case";
    std::filesystem::create_directory(m_work);
    const std::vector<CaseStep> steps = read_case_file(slurp(source_path(file)));
    ASSERT_FALSE(steps.empty());
    for (const CaseStep& step : steps) {
        SCOPED_TRACE(file + ":" + std::to_string(step.line) + ": " + step.command);
        if (step.file.empty())
            run_step(step);
        else
            (void)m_dir.write("work/" + step.file, joined(step.content));
    }
}

INSTANTIATE_TEST_SUITE_P(Cli, Cases, ::testing::ValuesIn(case_files()),
                         [](const auto& file) { return file.param; });

TEST(CaseFile, StarsStandForAnyText) {
    EXPECT_TRUE(line_matches("a***c", "abbc"));
    EXPECT_TRUE(line_matches("***", ""));
    EXPECT_FALSE(line_matches("a***c", "abbd"));
    EXPECT_TRUE(lines_match({"a", "***", "d"}, {"a", "b", "c", "d"}));
    EXPECT_TRUE(lines_match({"a", "***"}, {"a"}));
    EXPECT_FALSE(lines_match({"a", "***", "d"}, {"a", "b"}));
    EXPECT_FALSE(lines_match({}, {"a"}));
    EXPECT_FALSE(lines_match({"a"}, {"a", "b"}));
    EXPECT_FALSE(line_matches("abc***", "ab"));
}

TEST(CaseFile, FaultsOfACaseFileAreNoticed) {
    EXPECT_THROW((void)read_case_file("| stray\n"), std::runtime_error);
    EXPECT_THROW((void)read_case_file("status 2\n"), std::runtime_error);
    EXPECT_THROW((void)read_case_file("run x\nstdout\n"), std::runtime_error);
    const auto steps = read_case_file("file a\n| x\n|\nrun y\nstatus 3\nerr\n| z\n");
    ASSERT_EQ(steps.size(), 2u);
    EXPECT_EQ(steps[0].content, (std::vector<std::string>{"x", ""}));
    EXPECT_EQ(steps[1].status, 3);
    EXPECT_EQ(steps[1].err, std::vector<std::string>{"z"});
}

}  // namespace
