// SPDX-License-Identifier: Apache-2.0
// Writing that is hindered: killed at any moment, no room left, no permission. What was there stays whole, or
// what is new is there whole; one line says what happened; the next run works, and clears away what killed
// ones left.
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <filesystem>
#include <iostream>
#include <random>

#include "loamway/region/region.h"
#include "program.h"

namespace loamway {
namespace {

using test::Ran;
using test::run_program;

struct Writing {
    const char* file;
    std::vector<std::string> arguments;
    std::string old = "old";  // what the file was before
};

/// Everything that writes a file from the demo's files.
std::vector<Writing> writings() {
    const test::TempDir& demo = test::demo_files();
    std::vector<std::string> plan = test::demo_move(demo.file("demo.region"));
    plan.insert(plan.end(), {"-o", "plan.json"});
    return {{"out.region",
             {"region", "build", test::source_path("regions/demo/demo.osm.pbf"), "-o", "out.region"},
             "LOAMRGN\nold"},
            {"plan.json", plan},
            {"sheet.pdf",
             {"sheet", demo.file("plan.json"), "--region", demo.file("demo.region"), "-o", "sheet.pdf"}},
            {"sheet.html", {"sheet", demo.file("plan.json"), "-o", "sheet.html"}},
            {"track.gpkg", {"export", demo.file("plan.json"), "-o", "track.gpkg"}},
            {"track.gpx", {"export", demo.file("plan.json"), "-o", "track.gpx"}},
            {"load.svg",
             {"load", "--machine", test::source_path("examples/profiles/medium.toml"), "-o", "load.svg"}},
            {"c.geojson",
             {"correct", "add", "--region", demo.file("demo.region"), "--corrections", "c.geojson", "--kind",
              "closed", "--at", "47.2411,-35.39957"},
             std::string(test::no_corrections)}};
}

/// Entries of the folder other than these files and temporary ones.
std::vector<std::string> strays(const std::string& folder, const std::vector<std::string>& known) {
    std::vector<std::string> out;
    for (const std::string& name : test::names_in(folder))
        if (!name.starts_with(".tmp-") && std::find(known.begin(), known.end(), name) == known.end())
            out.push_back(name);
    return out;
}

TEST(KilledWriting, LeavesTheOldFileOrTheNewOne) {
    std::mt19937 random(3);
    int kills = 0, ends = 0;
    for (const Writing& w : writings()) {
        SCOPED_TRACE(w.file);
        const test::TempDir dir;
        dir.write(w.file, w.old);
        const Ran whole = run_program(w.arguments, {.folder = dir.path()});
        ASSERT_EQ(whole.status, 0) << whole.err;
        const std::string made = test::slurp(dir.file(w.file));
        for (int i = 0; i < 12; ++i) {
            dir.write(w.file, w.old);
            // Late ones too: files are written at the end.
            const auto at = std::chrono::milliseconds(
                i < 4 ? static_cast<long>(random() % 50)
                      : static_cast<long>(whole.took.count() * (60 + random() % 45) / 100));
            const Ran ran = run_program(w.arguments, {.folder = dir.path(), .kill_after = at});
            (ran.signal == SIGKILL ? kills : ends) += 1;
            const std::string now = test::slurp(dir.file(w.file));
            // Plans and corrections hold the time they were made.
            EXPECT_TRUE(now == w.old || now.size() == made.size() || now.back() == '\n')
                << now.size() << " bytes";
            if (ran.status == 0) {
                EXPECT_NE(now, w.old);
            }
            EXPECT_TRUE(strays(dir.path(), {w.file}).empty());
        }
        const Ran again = run_program(w.arguments, {.folder = dir.path()});
        // A correction is noted once.
        EXPECT_TRUE(again.status == 0 || again.err.find("c1 says the same") != std::string::npos)
            << again.err;
        EXPECT_EQ(test::names_in(dir.path()), std::vector<std::string>{w.file});
        if (std::string_view(w.file).ends_with(".region")) {
            EXPECT_NO_THROW(verify_region(dir.file(w.file)));
        }
    }
    EXPECT_GT(kills, 20);
    std::cout << kills << " killed, " << ends << " were done before\n";
}

TEST(KilledWriting, LedgerKeepsWhatItSaidItKept) {
    const test::TempDir dir;
    const std::string profile = test::source_path("examples/profiles/medium.toml");
    ASSERT_EQ(run_program({"ledger", "machine", "add", "red", "--profile", profile, "--ledger", "l"},
                          {.folder = dir.path()})
                  .status,
              0);
    ASSERT_EQ(run_program({"ledger", "belts", "add", "set", "--machine", "red", "--fit", "--ledger", "l"},
                          {.folder = dir.path()})
                  .status,
              0);
    std::mt19937 random(5);
    int kept = 0, killed = 0;
    for (int i = 0; i < 40; ++i) {
        const Ran ran =
            run_program({"ledger", "relube", "--machine", "red", "--ledger", "l"},
                        {.folder = dir.path(), .kill_after = std::chrono::milliseconds(random() % 60)});
        (ran.status == 0 ? kept : killed) += 1;
    }
    EXPECT_EQ(run_program({"ledger", "verify", "--ledger", "l"}, {.folder = dir.path()}).status, 0);
    const Ran all = run_program({"ledger", "export", "--ledger", "l"}, {.folder = dir.path()});
    const auto events = std::count(all.out.begin(), all.out.end(), '\n');
    EXPECT_GE(events, 3 + kept);
    EXPECT_LE(events, 3 + kept + killed);
    std::cout << killed << " killed, " << kept << " were done before\n";
}

// A limit on the size of files stands in for the full disk.
TEST(FullDisk, OneLineAndTheOldFile) {
    for (const Writing& w : writings())
        for (const rlim_t room : {rlim_t{0}, rlim_t{700}}) {
            SCOPED_TRACE(w.file);
            const test::TempDir dir;
            dir.write(w.file, w.old);
            const Ran ran = run_program(w.arguments, {.folder = dir.path(), .before = [room] {
                                                          const rlimit r{room, room};
                                                          std::signal(SIGXFSZ, SIG_IGN);
                                                          ::setrlimit(RLIMIT_FSIZE, &r);
                                                      }});
            if (ran.status == 0 && room > w.old.size() && test::slurp(dir.file(w.file)).size() <= room)
                continue;  // its file is that small
            // The limit holds for the two outputs of the program as well.
            EXPECT_EQ(ran.status, 1) << ran.out << ran.err;
            EXPECT_EQ(ran.signal, 0);
            if (room > 0) {
                EXPECT_TRUE(test::failed_clearly(ran, 1)) << ran.err;
            }
            EXPECT_EQ(test::names_in(dir.path()), std::vector<std::string>{w.file});
            EXPECT_EQ(test::slurp(dir.file(w.file)), w.old);
        }
}

// Answers come line by line: those that were written stay, and --resume goes on with the rest.
TEST(FullDisk, AnswersOfABatch) {
    const test::TempDir& demo = test::demo_files();
    const test::TempDir dir;
    std::string moves;
    for (int i = 1; i <= 6; ++i)
        moves += "{\"id\":" + std::to_string(i) +
                 R"(,"from":"Nettle Farm yard","to":"Kettle Quarter","machine":"medium"})" + "\n";
    dir.write("moves", moves);
    std::vector<std::string> batch{"batch",
                                   "--region",
                                   demo.file("demo.region"),
                                   "--places",
                                   test::source_path("regions/demo/places.geojson"),
                                   "--no-choices",
                                   "-o",
                                   "answers"};
    const auto with_room = [&](rlim_t room, const std::vector<std::string>& arguments) {
        return run_program(arguments, {.folder = dir.path(), .input = dir.file("moves"), .before = [room] {
                                           const rlimit r{room, room};
                                           std::signal(SIGXFSZ, SIG_IGN);
                                           ::setrlimit(RLIMIT_FSIZE, &r);
                                       }});
    };
    const Ran whole = run_program(batch, {.folder = dir.path(), .input = dir.file("moves")});
    ASSERT_EQ(whole.status, 0) << whole.err;
    const std::string all = test::slurp(dir.file("answers"));
    std::filesystem::remove(dir.file("answers"));
    // In the first line, in the middle, in the last one.
    batch.push_back("--resume");
    for (const std::size_t room : {std::size_t{700}, all.size() / 2, all.size() - 1}) {
        const Ran ran = with_room(room, batch);
        EXPECT_TRUE(test::failed_clearly(ran, 1)) << ran.status << ran.err;
        EXPECT_LE(test::slurp(dir.file("answers")).size(), room);
    }
    const Ran rest = run_program(batch, {.folder = dir.path(), .input = dir.file("moves")});
    EXPECT_EQ(rest.status, 0) << rest.err;
    const std::string answers = test::slurp(dir.file("answers"));
    for (int i = 1; i <= 6; ++i) {
        const std::string id = "\"id\":" + std::to_string(i) + ",";
        const auto at = answers.find(id);
        EXPECT_NE(at, std::string::npos) << id;
        EXPECT_EQ(answers.find(id, at + 1), std::string::npos) << id;
    }
    EXPECT_EQ(answers.find("\"error\""), std::string::npos);
    // The table of all answers: none rather than half of one.
    batch.insert(batch.end(), {"--summary", "table.csv"});
    const std::string older = "id,option,old\n";
    dir.write("table.csv", older);
    const Ran table = with_room(700, batch);
    EXPECT_TRUE(test::failed_clearly(table, 1)) << table.status << table.err;
    EXPECT_EQ(test::slurp(dir.file("table.csv")), older);
    EXPECT_EQ(test::slurp(dir.file("answers")), answers);
    // A device that is always full is no file to go on in.
    batch = {batch.begin(), batch.begin() + 6};
    batch.insert(batch.end(), {"-o", "/dev/full"});
    const Ran device = run_program(batch, {.folder = dir.path(), .input = dir.file("moves")});
    EXPECT_TRUE(test::failed_clearly(device, device.status) && device.status != 0)
        << device.status << device.err;
}

TEST(FullDisk, StandardOutput) {
    const test::TempDir& demo = test::demo_files();
    const test::TempDir dir;
    const std::string profile = test::source_path("examples/profiles/medium.toml");
    dir.write("moves", R"({"id":1,"from":"Nettle Farm yard","to":"Kettle Quarter","machine":"medium"})"
                       "\n");
    ASSERT_EQ(
        run_program({"ledger", "machine", "add", "red", "--profile", profile, "--ledger", dir.file("l")})
            .status,
        0);
    std::vector<std::vector<std::string>> all{{"region", "info", demo.file("demo.region")},
                                              {"region", "roads", demo.file("demo.region"), "--csv"},
                                              {"region", "verify", demo.file("demo.region")},
                                              test::demo_move(demo.file("demo.region")),
                                              {"sheet", demo.file("plan.json"), "-o", "-"},
                                              {"load", "--machine", profile},
                                              {"breakin", "--machine", profile},
                                              {"ledger", "show", "--ledger", dir.file("l")},
                                              {"ledger", "export", "--ledger", dir.file("l")},
                                              {"tags", "highway=track"},
                                              {"batch", "--region", demo.file("demo.region"), "--places",
                                               test::source_path("regions/demo/places.geojson")},
                                              {"--help"},
                                              {"--version"}};
    for (const auto& arguments : all) {
        const Ran ran = run_program(arguments, {.input = dir.file("moves"), .output = "/dev/full"});
        EXPECT_TRUE(test::failed_clearly(ran, 1)) << arguments[0] << ": " << ran.status << " " << ran.err;
    }
}

TEST(ReadOnlyFolder, OneLineAndNothingElse) {
    for (const Writing& w : writings()) {
        SCOPED_TRACE(w.file);
        const test::TempDir dir;
        dir.write(w.file, w.old);
        ::chmod(dir.file(w.file).c_str(), 0444);
        ::chmod(dir.path().c_str(), 0555);
        ::chmod(test::demo_files().path().c_str(), 0755);
        const Ran ran =
            run_program(w.arguments, {.folder = dir.path(), .before = [] {
                                          // Root may write anywhere.
                                          if (::geteuid() == 0 && ::setresuid(65534, 65534, 65534) != 0)
                                              ::_exit(99);
                                      }});
        ::chmod(dir.path().c_str(), 0755);
        EXPECT_TRUE(test::failed_clearly(ran, ran.status) && (ran.status == 1 || ran.status == 2))
            << ran.status << ran.err;
        EXPECT_EQ(test::slurp(dir.file(w.file)), w.old);
        EXPECT_EQ(test::names_in(dir.path()), std::vector<std::string>{w.file});
    }
}

}  // namespace
}  // namespace loamway
