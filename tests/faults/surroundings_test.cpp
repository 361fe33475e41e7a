// SPDX-License-Identifier: Apache-2.0
// What surrounds the program: locales with a comma for decimals, a clock that goes backwards, strange names
// of files, links, addresses in place of files, and files that claim or inflate to far more than they are.
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <zlib.h>

#include <algorithm>
#include <clocale>
#include <cstdio>
#include <filesystem>

#include "program.h"

namespace loamway {
namespace {

using test::Ran;
using test::run_program;

/// A German locale of our own: it need not be installed.
class Locale : public ::testing::Test {
protected:
    void SetUp() override {
        const std::string made = m_dir.file("de_DE.UTF-8");
        // localedef warns with a status of its own; what it made is what counts.
        (void)!std::system(("localedef -c -i de_DE -f UTF-8 '" + made + "' >/dev/null 2>&1").c_str());
        ASSERT_TRUE(std::filesystem::exists(made + "/LC_NUMERIC"))
            << "no German locale: run scripts/install --tests";
    }
    [[nodiscard]] std::vector<std::pair<std::string, std::string>> german() const {
        return {{"LOCPATH", m_dir.path()},
                {"LC_ALL", "de_DE.UTF-8"},
                {"LANG", "de_DE.UTF-8"},
                {"LANGUAGE", "de"}};
    }
    test::TempDir m_dir;
};

TEST_F(Locale, EveryFileIsTheSame) {
    const test::TempDir& demo = test::demo_files();
    const test::TempDir plain, comma;
    std::vector<std::string> plan = test::demo_move(demo.file("demo.region"));
    plan.insert(plan.end(), {"-o", "plan.json"});
    std::vector<std::vector<std::string>> all{
        {"region", "build", test::source_path("regions/demo/demo.osm.pbf"), "-o", "r.region", "--recipe",
         test::source_path("regions/demo.toml"), "--elevation", test::source_path("regions/demo/hills.tif")},
        {"region", "roads", demo.file("demo.region"), "--csv"},
        plan};
    for (const char* out : {"s.svg", "s.html", "s.txt"})
        all.push_back({"sheet", demo.file("plan.json"), "--region", demo.file("demo.region"), "-o", out});
    for (const char* out : {"t.gpx", "t.kml", "t.geojson", "t.csv"})
        all.push_back({"export", demo.file("plan.json"), "-o", out});
    for (const auto& arguments : all) {
        const Ran a = run_program(arguments, {.folder = plain.path()});
        const Ran b = run_program(arguments, {.folder = comma.path(), .variables = german()});
        EXPECT_EQ(a.status, 0) << arguments[0] << ": " << a.err;
        EXPECT_EQ(b.status, 0) << arguments[0] << ": " << b.err;
        EXPECT_EQ(a.out, b.out) << arguments[0];
    }
    for (const std::string& name : test::names_in(plain.path()))
        EXPECT_TRUE(test::slurp(plain.file(name)) == test::slurp(comma.file(name))) << name;
    EXPECT_EQ(test::names_in(plain.path()), test::names_in(comma.path()));
}

TEST(WallClock, GoesBackwardsAndNothingHangs) {
    const test::TempDir& demo = test::demo_files();
    const test::TempDir dir;
    dir.write("moves", R"({"id":1,"from":"Nettle Farm yard","to":"Kettle Quarter","machine":"medium"})"
                       "\n"
                       R"({"id":2,"from":"Long Forty","to":"Kettle Quarter","machine":"medium"})"
                       "\n");
    const std::string profile = test::source_path("examples/profiles/medium.toml");
    const std::string places = test::source_path("regions/demo/places.geojson");
    const std::vector<std::vector<std::string>> all{
        {"region", "build", test::source_path("regions/demo/demo.osm.pbf"), "-o", "r.region"},
        {"plan", "--region", demo.file("demo.region"), "--places", places, "--machine", profile, "--from",
         "Nettle Farm yard", "--to", "Kettle Quarter", "--air", "18", "--trials", "20"},
        {"batch", "--region", demo.file("demo.region"), "--places", places, "-o", "answers"},
        {"ledger", "machine", "add", "red", "--profile", profile, "--ledger", "l"},
        {"ledger", "machine", "add", "blue", "--profile", profile, "--ledger", "l"},
        {"ledger", "show", "--ledger", "l"},
        {"ledger", "verify", "--ledger", "l"}};
    for (const auto& arguments : all) {
        const Ran ran = run_program(
            arguments,
            {.folder = dir.path(), .input = dir.file("moves"), .variables = {{"LD_PRELOAD", WALL_CLOCK}}});
        EXPECT_EQ(ran.status, 0) << arguments[0] << ": " << ran.err;
    }
    EXPECT_EQ(test::slurp(dir.file("answers")).find("\"error\""), std::string::npos);
    // Numbers rise whatever the clock says, and a clock of another day reads what this one wrote.
    const Ran events = run_program({"ledger", "export", "--ledger", "l"}, {.folder = dir.path()});
    EXPECT_NE(events.out.find("{\"id\":1,"), std::string::npos);
    EXPECT_NE(events.out.find("{\"id\":2,"), std::string::npos);
}

TEST(FileNames, BlanksQuotesLinesAndDashes) {
    const test::TempDir& demo = test::demo_files();
    const test::TempDir dir;
    for (const std::string name :
         {"a b", "q'\"s", "n\nl", "-dash", "\x1b[31m", "\xE2\x80\xAE", "\xFF", "$(x)`y`%s"}) {
        std::filesystem::copy_file(demo.file("plan.json"), dir.file(name + ".json"));
        std::filesystem::copy_file(demo.file("demo.region"), dir.file(name + ".region"));
        const std::vector<std::vector<std::string>> all{
            {"sheet", "./" + name + ".json", "--region", name + ".region", "-o", name + ".pdf"},
            {"export", "./" + name + ".json", "-o", name + ".gpkg"},
            {"region", "verify", "./" + name + ".region"}};
        for (const auto& arguments : all) {
            const Ran ran = run_program(arguments, {.folder = dir.path()});
            EXPECT_EQ(ran.status, 0) << ran.err;
            EXPECT_EQ(test::unprintable_in(ran.out + ran.err), "");
        }
        EXPECT_TRUE(test::slurp(dir.file(name + ".pdf")).starts_with("%PDF"));
        EXPECT_TRUE(test::slurp(dir.file(name + ".gpkg")).starts_with("SQLite format 3"));
        const Ran none = run_program({"region", "info", "./" + name + "none"}, {.folder = dir.path()});
        EXPECT_TRUE(test::failed_clearly(none, 2)) << none.err;
    }
}

TEST(FileNames, LinksAreFollowedAndStay) {
    const test::TempDir& demo = test::demo_files();
    const test::TempDir dir;
    dir.write("target.gpx", "old");
    std::filesystem::create_symlink("target.gpx", dir.file("link.gpx"));
    std::filesystem::create_symlink(demo.file("plan.json"), dir.file("plan.json"));
    std::filesystem::create_symlink("loop.gpx", dir.file("loop.gpx"));
    std::filesystem::create_symlink("nowhere.gpx", dir.file("dangling.gpx"));
    const auto write = [&](const char* to) {
        return run_program({"export", "plan.json", "-o", to}, {.folder = dir.path()});
    };
    EXPECT_EQ(write("link.gpx").status, 0);
    EXPECT_TRUE(std::filesystem::is_symlink(dir.file("link.gpx")));
    EXPECT_TRUE(test::slurp(dir.file("target.gpx")).starts_with("<?xml"));
    // Without a file behind it the link itself gives way; nothing appears elsewhere.
    EXPECT_EQ(write("dangling.gpx").status, 0);
    EXPECT_FALSE(std::filesystem::exists(dir.file("nowhere.gpx")));
    EXPECT_TRUE(test::slurp(dir.file("dangling.gpx")).starts_with("<?xml"));
    const Ran loop = run_program({"sheet", "loop.gpx", "-o", "x.pdf"}, {.folder = dir.path()});
    EXPECT_TRUE(test::failed_clearly(loop, loop.status)) << loop.status << loop.err;
    // The plan behind a link is not written over through it.
    EXPECT_TRUE(test::failed_clearly(write("plan.json"), 2));
}

/// Nothing is fetched: each is refused before anything is opened. Addresses lead to this machine's port 1.
TEST(FileNames, AddressesAreNoFiles) {
    const test::TempDir& demo = test::demo_files();
    const test::TempDir dir;
    const std::string profile = test::source_path("examples/profiles/medium.toml"),
                      region = demo.file("demo.region");
    for (const std::string a :
         {"http://127.0.0.1:1/x.json", "/vsicurl/http://127.0.0.1:1/x.json", "s3://b/k.json", "PG:dbname=x",
          "WFS:http://127.0.0.1:1/", "/vsizip/x.zip/x.json", "file:///etc/passwd"}) {
        const std::vector<std::vector<std::string>> all{
            {"sheet", a, "-o", "o.pdf"},
            {"export", a, "-o", "o.gpx"},
            {"export", demo.file("plan.json"), "-o", a + ".gpx"},
            {"sheet", demo.file("plan.json"), "--region", a, "-o", "o.pdf"},
            {"region", "info", a},
            {"region", "verify", a},
            {"region", "build", a, "-o", "x.region"},
            {"region", "build", test::source_path("regions/demo/demo.osm.pbf"), "-o", "x.region",
             "--elevation", a},
            {"region", "build", test::source_path("regions/demo/demo.osm.pbf"), "-o", "x.region", "--recipe",
             a},
            {"plan", a},
            {"plan", "--region", region, "--machine", a, "--from", "47.1,-35.5", "--to", "47.2,-35.5"},
            {"plan", "--region", region, "--machine", profile, "--places", a, "--from", "47.1,-35.5", "--to",
             "47.2,-35.5"},
            {"belt", a, "--machine", profile},
            {"load", "--machine", a},
            {"breakin", "--machine", a},
            {"budget", a},
            {"season", a},
            {"correct", "list", "--region", region, "--corrections", a},
            {"serve", "--region", a},
            {"batch", "--region", a},
            {"ledger", "show", "--ledger", a}};
        for (const auto& arguments : all) {
            const Ran ran = run_program(arguments, {.folder = dir.path()});
            EXPECT_TRUE(test::failed_clearly(ran, 2))
                << arguments[0] << " " << a << ": " << ran.status << " " << ran.err;
        }
        EXPECT_TRUE(test::names_in(dir.path()).empty()) << a;
    }
}

std::string big_endian(std::size_t n) {
    return {static_cast<char>(n >> 24), static_cast<char>(n >> 16), static_cast<char>(n >> 8),
            static_cast<char>(n)};
}
std::string varint(std::uint64_t n) {
    std::string out;
    for (; n >= 128; n >>= 7)
        out += static_cast<char>((n & 127) | 128);
    return out + static_cast<char>(n);
}
/// An extract of one block that says it holds so many bytes.
std::string one_block(std::uint64_t claimed, const std::string& packed) {
    const std::string blob = "\x10" + varint(claimed) + "\x1a" + varint(packed.size()) + packed;
    const std::string head = std::string("\x0a\x09OSMHeader\x18") + varint(blob.size());
    return big_endian(head.size()) + head + blob;
}

/// Made in pieces: the memory of this process counts for those it starts.
std::string packed_zeros(std::size_t bytes) {
    std::string piece(std::size_t{1} << 20, '\0'), out;
    std::string packed(piece.size(), '\0');
    z_stream s{};
    ::deflateInit(&s, 9);
    for (std::size_t done = 0; done <= bytes; done += piece.size()) {
        s.next_in = reinterpret_cast<Bytef*>(piece.data());
        s.avail_in = done < bytes ? static_cast<uInt>(piece.size()) : 0;
        s.next_out = reinterpret_cast<Bytef*>(packed.data());
        s.avail_out = static_cast<uInt>(packed.size());
        ::deflate(&s, done < bytes ? Z_NO_FLUSH : Z_FINISH);
        out += packed.substr(0, packed.size() - s.avail_out);
    }
    ::deflateEnd(&s);
    return out;
}

// Small files that are large inside: refused, with less memory than they would take.
TEST(Bombs, AreRefusedWithLittleMemory) {
    const test::TempDir dir;
    constexpr std::size_t inside = std::size_t{300} << 20;
    const std::string packed = packed_zeros(inside);
    dir.write("true.osm.pbf", one_block(inside, packed));
    dir.write("small.osm.pbf", one_block(100, packed));
    dir.write("claim.osm.pbf", one_block(2'000'000'000, packed.substr(0, 100)));
    dir.write("below.osm.pbf", one_block(~std::uint64_t{0}, packed));
    // Text in short pieces is read on the way and kept nowhere; a piece without end is refused.
    const auto write_text = [&](const char* name, const char* begin, const std::string& piece,
                                const char* end) {
        gzFile out = ::gzopen(dir.file(name).c_str(), "wb9");
        ::gzputs(out, begin);
        std::string part;
        while (part.size() < std::size_t{1} << 20)
            part += piece;
        for (int i = 0; i < 200; ++i)
            ::gzwrite(out, part.data(), static_cast<unsigned>(part.size()));
        ::gzputs(out, end);
        ::gzclose(out);
    };
    const char* const osm = "<osm version=\"0.6\">";
    write_text("remarks.osm.gz", osm, "<!-- a remark that says little --> and a word or two after it\n",
               "</osm>");
    write_text("blank.osm.gz", osm, "     ", "</osm>");
    write_text("remarks.opl.gz", "", "# a remark that says little\n", "");
    write_text("line.opl.gz", "n1 v1 T", "note%20%=", "");
    // Streams with nothing in them, and a file that is one hole.
    std::string nothing;
    for (int i = 0; i < 100'000; ++i)
        nothing += std::string("BZh9\x17\x72\x45\x38\x50\x90\0\0\0\0", 14);
    dir.write("nothing.opl.bz2", nothing);
    std::filesystem::resize_file(dir.write("hole.opl", ""), std::uintmax_t{8} << 30);
    for (const std::string name :
         {"true.osm.pbf", "small.osm.pbf", "claim.osm.pbf", "below.osm.pbf", "blank.osm.gz", "remarks.osm.gz",
          "remarks.opl.gz", "line.opl.gz", "nothing.opl.bz2", "hole.opl"}) {
        rusage self{}, before{}, after{};
        ::getrusage(RUSAGE_SELF, &self);
        ::getrusage(RUSAGE_CHILDREN, &before);
        const Ran ran = run_program({"region", "build", name, "-o", "x.region"}, {.folder = dir.path()});
        ::getrusage(RUSAGE_CHILDREN, &after);
        const bool no_map = name.starts_with("remarks") || name.starts_with("nothing") || name == "hole.opl";
        EXPECT_TRUE(test::failed_clearly(ran, no_map ? 2 : 1)) << name << ": " << ran.status << ran.err;
        EXPECT_FALSE(std::filesystem::exists(dir.file("x.region")));
#ifndef __SANITIZE_ADDRESS__
        // In KiB, the largest child so far, which begins as this process: far below what is in the files.
        // Large tests before this one in the same process would hide it.
        constexpr long most = 200 * 1024;
        if (self.ru_maxrss < most && before.ru_maxrss < most) {
            EXPECT_LT(after.ru_maxrss, most) << name;
        }
#endif
    }
}

}  // namespace
}  // namespace loamway
