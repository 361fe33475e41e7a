// SPDX-License-Identifier: Apache-2.0
// The same question gives the same bytes: every kind of file, made with one thread at fixed addresses, with
// two and with seven at random ones in memory that is not zeroed. No file holds the time it was made at.
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <map>
#include <string>

#include "support/test_files.h"

using namespace loamway::test;

namespace {

constexpr const char* everything = R"(set -eu
loamway() { $PREFIX "$PROGRAM" "$@"; }
loamway region build "$SOURCE/regions/demo/demo.osm.pbf" -o demo.region --recipe "$SOURCE/regions/demo.toml" \
    --elevation "$SOURCE/regions/demo/hills.tif" >build.txt
loamway region roads demo.region --csv >roads.csv
loamway plan "$SOURCE/examples/moves/demo.toml" --region demo.region --return-trip -o plan.json >plan.txt
loamway plan "$SOURCE/examples/moves/mixed.toml" --region demo.region -o mixed.json >mixed.txt
loamway plan "$SOURCE/examples/moves/demo.toml" --region demo.region --depart 2026-07-14 --when 12-15 --json >when.json
for e in gpx geojson kml gpkg csv; do loamway export plan.json -o plan.$e; done
for e in pdf svg png html txt; do loamway sheet plan.json -o sheet.$e --region demo.region; done
loamway sheet plan.json mixed.json -o day.pdf
loamway sheet mixed.json --for escort -o escort.pdf
for k in choices cost break-even; do loamway sheet plan.json --picture $k -o $k.svg; done
for e in pdf png txt json; do loamway load "$SOURCE/examples/moves/demo.toml" -o load.$e >/dev/null; done
loamway budget "$SOURCE/examples/jobs/demo.toml" --region demo.region -o budget.pdf >/dev/null
loamway batch --region demo.region --no-choices --threads "$THREADS" --summary batch.csv -o batch.jsonl <moves.jsonl
)";

std::map<std::string, std::string> made(const std::string& name, const TempDir& folder,
                                        const std::string& prefix, const std::string& environment,
                                        const char* threads) {
    const std::string at = folder.path() + "/" + name;
    std::filesystem::create_directory(at);
    std::string moves;
    for (int i = 0; i < 12; ++i) {
        const bool there = i % 2 == 0;
        moves += std::string(R"({"id":")") + std::to_string(i) + R"(","from":")" +
                 (there ? "Nettle Farm" : "Tillerby") + R"(","to":")" + (there ? "Tillerby" : "Nettle Farm") +
                 R"(","machine":")" + (i % 3 == 0 ? "large" : "medium") + R"(","depart":"2026-07-14T)" +
                 std::to_string(10 + i) + R"(:00","trials":50})" + "\n";
    }
    (void)folder.write(name + "/moves.jsonl", moves);
    const std::string script = folder.write("all.sh", everything);
    const std::string line = "cd '" + at + "' && " + environment + " PREFIX='" + prefix +
                             "' THREADS=" + threads + " PROGRAM='" LOAMWAY_PROGRAM "' SOURCE='" +
                             source_path("") + "' sh '" + script + "' 2>'" + folder.file(name + ".log") + "'";
    EXPECT_EQ(std::system(line.c_str()), 0) << slurp(folder.file(name + ".log"));
    std::map<std::string, std::string> out;
    for (const auto& entry : std::filesystem::directory_iterator(at))
        out.emplace(entry.path().filename().string(), slurp(entry.path().string()));
    return out;
}

TEST(Reproducible, EveryFileToTheByte) {
    const TempDir folder;
    // Where a container allows neither, the runs differ in threads and memory alone.
    const bool fixed = std::system("setarch -R true 2>/dev/null") == 0;
    const bool pinned = std::system("taskset -c 0 true 2>/dev/null") == 0;
    const std::string prefix = std::string(pinned ? "taskset -c 0 " : "") + (fixed ? "setarch -R" : "");
    const auto one = made("one", folder, prefix, "TZ=UTC", "1");
    const auto two = made("two", folder, "", "TZ=Asia/Kathmandu MALLOC_PERTURB_=165", "2");
    const auto seven = made("seven", folder, "", "LANG=de_DE.UTF-8 MALLOC_PERTURB_=90", "7");
    ASSERT_GT(one.size(), 30u);
    ASSERT_EQ(one.size(), two.size());
    ASSERT_EQ(one.size(), seven.size());
    for (const auto& [name, bytes] : one) {
        EXPECT_FALSE(bytes.empty() && name != "build.txt") << name;
        EXPECT_TRUE(two.at(name) == bytes) << name << " differs with two threads";
        EXPECT_TRUE(seven.at(name) == bytes) << name << " differs with seven threads";
    }
    EXPECT_EQ(one.at("batch.jsonl").find("\"error\""), std::string::npos)
        << one.at("batch.jsonl").substr(0, 300);
}

}  // namespace
