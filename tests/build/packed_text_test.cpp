// SPDX-License-Identifier: Apache-2.0
// Text extracts in packed files of any number of streams, and OPL whose lines are longer than any map's. The
// library's reader of bzip2 took a stream without text, or one of exactly a buffer's size, for the end of the
// file: an OPL map lost the rest without a word. Packed OPL could unpack to any size.
#include <fcntl.h>
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <osmium/io/any_compression.hpp>

#include "../../src/build/opl_lines.h"
#include "loamway/base/error.h"
#include "opl_map.h"
#include "write_extract.h"

namespace loamway::test {
namespace {

using testing::HasSubstr;

constexpr std::size_t mebibyte = std::size_t{1} << 20;

/// Packed as the name says, as one stream.
std::string packed(const std::string& name, const std::string& text) {
    const TempDir dir;
    const auto form = name.ends_with(".gz")    ? osmium::io::file_compression::gzip
                      : name.ends_with(".bz2") ? osmium::io::file_compression::bzip2
                                               : osmium::io::file_compression::none;
    const int fd = ::open(dir.file("p").c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0644);
    const auto out =
        osmium::io::CompressionFactory::instance().create_compressor(form, fd, osmium::io::fsync::no);
    out->write(text);
    out->close();
    return slurp(dir.file("p"));
}

std::string nodes(int first, int end) {
    std::string text;
    for (int i = first; i < end; ++i)
        text += fmt::format("n{} v1 x13.{:06} y53.5\n", i, i);
    return text;
}
const std::string a_road = "w1 v1 Thighway=track Nn1,n2\n";

/// Filled up with a remark, which the reader passes over.
std::string filled(std::string text, std::size_t size) {
    return text + "#" + std::string(size - text.size() - 2, ' ') + "\n";
}

struct Said {
    ErrorKind kind;
    std::string what;
    std::optional<int> line;
};
Said what_is_said(const std::string& path) {
    try {
        (void)read_extract(path, {});
    } catch (const Error& e) {
        EXPECT_EQ(e.place().file, path);
        EXPECT_FALSE(e.what_to_do().empty());
        return {e.kind(), e.what(), e.place().line};
    }
    ADD_FAILURE() << path << " was read";
    return {ErrorKind::internal, {}, {}};
}

constexpr const char* packed_names[] = {"m.opl.gz", "m.opl.bz2"};

TEST(PackedText, StreamsWithoutTextAndOfWholeBuffersAreNoEnd) {
    const TempDir dir;
    for (const std::string name : packed_names) {
        const std::string none = packed(name, "");
        std::string file = none;
        for (const std::string& part : {nodes(1, 10), std::string(), filled(nodes(10, 20), mebibyte),
                                        filled(nodes(20, 30), 3 * mebibyte), std::string("n30 v1 x13.9 y5"),
                                        std::string("3.5\n"), a_road, std::string()})
            file += packed(name, part);
        const RawMap map = read_extract(dir.write(name, file), {});
        EXPECT_EQ(map.nodes_read, 30) << name;
        EXPECT_EQ(map.ways_read, 1) << name;
    }
}

TEST(PackedText, OfManyTinyStreamsIsRead) {
    const TempDir dir;
    for (const std::string name : packed_names) {
        const std::string none = packed(name, "");
        std::string file;
        for (int i = 1; i <= 2000; ++i)
            file += packed(name, nodes(i, i + 1)) + none + none;
        EXPECT_EQ(read_extract(dir.write(name, file + packed(name, a_road)), {}).nodes_read, 2000) << name;
        std::string nothing;
        for (int i = 0; i < 20'000; ++i)
            nothing += none;
        const Said said = what_is_said(dir.write(name, nothing));
        EXPECT_EQ(said.kind, ErrorKind::input) << name;
        EXPECT_THAT(said.what, HasSubstr("holds no objects")) << name;
    }
}

TEST(PackedText, CutOrFollowedByOtherBytesIsDamaged) {
    const TempDir dir;
    const std::string name = "m.opl.bz2";
    const std::string whole = packed(name, nodes(1, 100)) + packed(name, a_road);
    EXPECT_EQ(read_extract(dir.write(name, whole), {}).ways_read, 1);
    for (const std::size_t size : {whole.size() - 1, whole.size() - 10, whole.size() / 2, std::size_t{2}})
        EXPECT_EQ(what_is_said(dir.write(name, whole.substr(0, size))).kind, ErrorKind::damaged) << size;
    EXPECT_EQ(what_is_said(dir.write(name, whole + "and more")).kind, ErrorKind::damaged);
    std::string flipped = whole;
    flipped[whole.size() / 3] = static_cast<char>(flipped[whole.size() / 3] ^ 1);
    EXPECT_EQ(what_is_said(dir.write(name, flipped)).kind, ErrorKind::damaged);
    EXPECT_EQ(what_is_said(dir.write(name, "n1 v1 x13.9 y53.5\n")).kind, ErrorKind::input);
}

// Each line by itself is small.
TEST(PackedText, OplThatUnpacksToNoEndIsRefused) {
    const TempDir dir;
    std::string many;
    while (many.size() < 4 * mebibyte)
        many += nodes(1, 5);
    for (const std::string name : packed_names) {
        const std::string middle = packed(name, many);
        std::string file;
        for (int i = 0; i < 120; ++i)
            file += middle;
        ASSERT_LT(file.size(), 2 * mebibyte);
        const Said said = what_is_said(dir.write(name, file));
        EXPECT_EQ(said.kind, ErrorKind::limit) << name;
        EXPECT_THAT(said.what, HasSubstr("unpacks to far more")) << name;
    }
}

// Blocks packed with a thousand to one, and once more so.
TEST(PackedText, PbfIsNotPackedTwice) {
    const TempDir dir;
    write_extract(nodes(1, 5) + a_road, dir.file("m.osm.pbf"));
    for (const std::string name : {"m.osm.pbf.gz", "m.osm.pbf.bz2"}) {
        const Said said = what_is_said(dir.write(name, packed(name, slurp(dir.file("m.osm.pbf")))));
        EXPECT_EQ(said.kind, ErrorKind::input) << name;
        EXPECT_THAT(said.what, HasSubstr("packed once more")) << name;
    }
}

TEST(OplLines, ExactlyTheLimitPassesHoweverItIsCut) {
    const auto passes = [](const std::string& text, std::size_t part) {
        OplLines lines;
        for (std::size_t at = 0; at < text.size(); at += part)
            if (!lines.take(std::string_view(text).substr(at, part)))
                return std::int64_t{0} - lines.line();
        return lines.line();
    };
    const std::string longest(OplLines::most, 'x');
    for (const std::size_t part : {mebibyte, std::size_t{65537}, std::size_t{7}}) {
        EXPECT_EQ(passes("n1\n\r\n" + longest + "\nn2\n" + longest, part), 5) << part;
        EXPECT_EQ(passes("n1\n\r\n" + longest + "x\nn2\n", part), -3) << part;
        EXPECT_EQ(passes(longest + "x", part), -1) << part;
    }
}

TEST(OplLines, OfExtractsAreReadOrRefused) {
    const TempDir dir;
    std::string members;
    for (int i = 0; i < 32'000; ++i)
        members += (i == 0 ? "" : ",") + fmt::format("w{}@a%20%long%20%role", 10'000'000'000 + i);
    const std::string large = nodes(1, 3) + a_road + "r1 v1 Ttype=route M" + members + "\n";
    for (const std::string name : {"m.opl", "m.opl.gz", "m.opl.bz2"}) {
        EXPECT_EQ(read_extract(dir.write(name, packed(name, large)), {}).relations_read, 1) << name;
        const Said said = what_is_said(
            dir.write(name, packed(name, large + "n9 v1 Tnote=" + std::string(5 * OplLines::most, 'x'))));
        EXPECT_EQ(said.kind, ErrorKind::limit) << name;
        EXPECT_THAT(said.what, HasSubstr("one line goes on for more than 16777216 bytes")) << name;
        EXPECT_EQ(said.line, 5) << name;
    }
}

// What follows it in the line was dropped without a word.
TEST(OplLines, WithAByteThatIsZeroAreRefused) {
    const TempDir dir;
    std::string text = nodes(1, 3) + a_road;
    text[text.find("highway") - 1] = '\0';
    const Said said = what_is_said(dir.write("m.opl", text));
    EXPECT_EQ(said.kind, ErrorKind::input);
    EXPECT_THAT(said.what, HasSubstr("a byte that is zero"));
}

}  // namespace
}  // namespace loamway::test
