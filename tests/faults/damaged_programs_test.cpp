// SPDX-License-Identifier: Apache-2.0
// Whole programs on region files with turned bits and lost ends: each ends by itself with a status of ours
// and, where it fails, one line. damaged_region_test.cpp follows many more of them within one process.
#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>
#include <map>
#include <random>

#include "program.h"
#include "region_in_memory.h"

namespace loamway {
namespace {

using test::Ran;

/// Everything that opens a region; `region` stands for it.
std::vector<std::vector<std::string>> commands(const test::TempDir& dir) {
    const std::string places = test::source_path("regions/demo/places.geojson");
    const std::string plan_file = test::demo_files().file("plan.json");
    dir.write("c.geojson", test::no_corrections);
    std::vector<std::string> plan = test::demo_move("region");
    std::vector<std::string> plan_json = plan;
    plan_json.push_back("--json");
    return {plan,
            {"region", "info", "region"},
            plan_json,
            {"region", "info", "region", "--json"},
            {"batch", "--region", "region", "--places", places},
            {"region", "roads", "region", "--csv"},
            {"sheet", plan_file, "--region", "region", "-o", "s.svg"},
            {"correct", "add", "--region", "region", "--corrections", "c.geojson", "--kind", "closed", "--at",
             "47.2411,-35.39957"},
            {"correct", "check", "--region", "region", "--corrections", "c.geojson"}};
}

TEST(DamagedPrograms, EndWithAStatusOfOurs) {
    const test::TempDir dir;
    dir.write("moves",
              R"({"id":1,"from":"Nettle Farm yard","to":"Kettle Quarter","machine":"medium","trials":20})"
              "\n");
    test::FileInMemory file(test::slurp(test::demo_files().file("demo.region")));
    const auto all = commands(dir);
    const char* wish = std::getenv("LOAMWAY_TEST_FLIPS");
    const std::size_t rounds =
        std::max<std::size_t>(200, wish != nullptr ? std::strtoull(wish, nullptr, 10) / 100 : 0);
    std::mt19937_64 random(2911);
    std::map<int, int> ends;
    for (std::size_t i = 0; i < rounds; ++i) {
        const std::size_t at = random() % file.size();
        const auto bit = static_cast<unsigned char>(1u << (random() % 8));
        const bool cut = i % 10 == 9;
        cut ? file.cut(at) : file.flip(at, bit);
        std::vector<std::string> arguments = all[i % all.size()];
        for (std::string& a : arguments)
            if (a == "region" && &a != &arguments.front())
                a = file.path();
        const Ran ran = test::run_program(arguments, {.folder = dir.path(), .input = dir.file("moves")});
        ++ends[ran.status];
        EXPECT_TRUE(ran.status >= 0 && ran.status <= 3)
            << arguments[0] << ", byte " << at << (cut ? " cut" : "") << ", signal " << ran.signal << ran.err;
        EXPECT_TRUE(ran.status == 0 || ran.status == 3 || test::failed_clearly(ran, ran.status))
            << arguments[0] << ", byte " << at << ": " << ran.err;
        EXPECT_EQ(test::unprintable_in(ran.out + ran.err), "");
        const Ran verified = test::run_program({"region", "verify", file.path()});
        EXPECT_TRUE(test::failed_clearly(verified, 1)) << at << (cut ? " cut: " : ": ") << verified.err;
        cut ? file.make_whole() : file.flip(at, bit);
    }
    EXPECT_EQ(test::run_program({"region", "verify", file.path()}).status, 0);
    for (const auto& [status, count] : ends)
        std::cout << "  " << count << " ended with " << status << "\n";
}

}  // namespace
}  // namespace loamway
